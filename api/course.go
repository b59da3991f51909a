package api

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// stopped is when and why a class was ended before its end. What stands of it, its rules say and its standing shows.
type stopped struct {
	At     time.Time `json:"at"`
	Reason string    `json:"reason"`
}

// advice is what the rules of a class have for the officials now. Nothing of it is decided, and nothing follows by
// itself: somebody stores what was decided.
//
//	{"call": {"until": "2026-09-19T18:08:02Z", "says": "a puller who is not ready is disqualified"}}
type advice struct {
	Call   *call  `json:"call,omitempty"`
	Reset  string `json:"reset,omitempty"`
	TooFew string `json:"too_few,omitempty"`
}

// call is until when the puller who was called has to hook. From is what starts the time in the words of the book, left
// out where that is the call.
type call struct {
	Until time.Time `json:"until"`
	From  string    `json:"from,omitempty"`
	Says  string    `json:"says"`
}

// stoppedOf writes the stop, nil while the class goes on.
func stoppedOf(s domain.Stopped) *stopped {
	if s == (domain.Stopped{}) {
		return nil
	}
	return &stopped{At: s.At.UTC(), Reason: s.Reason}
}

// adviceOf writes what is advised now, nil where nothing is.
func adviceOf(c *domain.Class) *advice {
	told := advice{Reset: c.ResetAdvised(), TooFew: c.TooFew()}
	if a := c.CallAdvised(); !a.Until.IsZero() {
		told.Call = &call{Until: a.Until.UTC(), From: a.From, Says: a.Advice}
	}
	if told == (advice{}) {
		return nil
	}
	return &told
}

// sameOf writes the entry whose vehicle an entry hooks with, nil for one of its own.
func sameOf(e domain.Entry) *uuid.UUID {
	if e.Same == uuid.Nil {
		return nil
	}
	return &e.Same
}

// readTestPuller reads {"entry": "0b…"}, whom the sled operator chose to make the test hook.
func readTestPuller(in *sent) deed {
	entry := in.body.id("entry")
	return deed{action: domain.PickTest{Entry: entry}, named: named{Entry: &entry}}
}

// readLine reads {"line": {"figures": "320", "unit": "ft"}, "reason": "the sled is light"}.
func readLine(in *sent) deed {
	return deed{action: domain.MoveLine{Line: in.body.distance("line"), Reason: in.body.text("reason", maxText)}}
}

// readStop reads {"reason": "rain"}. What stands follows from the rules.
func readStop(in *sent) deed {
	return deed{action: domain.StopClass{Reason: in.body.text("reason", maxText)}}
}

// readResume reads {"reason": "dry again"}. The class goes on where it stood.
func readResume(in *sent) deed {
	return deed{action: domain.ResumeClass{Reason: in.body.text("reason", maxText)}}
}
