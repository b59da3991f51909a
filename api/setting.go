package api

import (
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"clayline/domain"
)

// revision is one numbered setting of a round.
type revision struct {
	Number  int        `json:"number"`
	State   string     `json:"state"` // draft, open or closed
	Drafted time.Time  `json:"drafted"`
	Frozen  *time.Time `json:"frozen,omitempty"`
	Closed  *time.Time `json:"closed,omitempty"`
	Reason  string     `json:"reason,omitempty"`
	Card    card       `json:"card"`
}

// card is what the sled operator chooses.
type card struct {
	Box        *measure `json:"box"`
	Slabs      slabs    `json:"slabs"`
	Gear       int      `json:"gear"`
	StartHole  int      `json:"start_hole"`
	Trip       *measure `json:"trip"`
	Pan        *measure `json:"pan,omitempty"`
	Blades     string   `json:"blades,omitempty"`
	PushDown   string   `json:"push_down,omitempty"`
	Device     string   `json:"device,omitempty"`
	SpeedLimit *measure `json:"speed_limit,omitempty"`
	Note       string   `json:"note,omitempty"`
}

// slabs says where the slabs lie.
type slabs struct {
	Left   int `json:"left"`
	Middle int `json:"middle"`
	Right  int `json:"right"`
}

func revisionOf(r domain.Revision) revision {
	state := "closed"
	switch {
	case r.Draft():
		state = "draft"
	case r.Open():
		state = "open"
	}
	s := r.Setting
	return revision{
		Number: r.Number, State: state, Drafted: r.Drafted.UTC(), Frozen: moment(r.Frozen), Closed: moment(r.Closed), Reason: r.Reason,
		Card: card{
			Box: weightOf(s.Box), Slabs: slabs(s.Slabs), Gear: s.Gear, StartHole: s.StartHole, Trip: distanceOf(s.Trip), Pan: weightOf(s.Pan),
			Blades: s.Blades, PushDown: s.PushDown, Device: s.Device, SpeedLimit: speedOf(s.SpeedLimit), Note: s.Note,
		},
	}
}

// setting shows the newest setting of a round, a draft too, to those who have a pass.
func (s *Server) setting(c echo.Context) error {
	by, err := s.who(c)
	if err != nil {
		return err
	}
	page, err := s.desk.ClassPage(c.Request().Context(), ref(c))
	if err != nil {
		return err
	}
	if err := by.May(domain.Desk|domain.Booth|domain.Cab, page.Event.ID); err != nil {
		return err
	}
	for _, r := range page.Class.Rounds {
		if n := len(r.Revisions); r.ID.String() == c.Param("round") && n > 0 {
			return send(c, http.StatusOK, revisionOf(r.Revisions[n-1]))
		}
	}
	return &domain.Error{Kind: domain.NotFound, Field: "round", Message: "there is no setting for such a round", Fix: "read the class; it has the ids of its rounds"}
}

func readDraft(in *sent) deed {
	round, o := in.param("round"), in.body
	s := domain.Setting{
		Box: o.weight("box"), Gear: o.whole("gear"), StartHole: o.whole("start_hole"), Trip: o.distance("trip"),
		Blades: o.maybe("blades"), PushDown: o.maybe("push_down"), Device: o.maybe("device"), Note: o.maybe("note"),
	}
	if o.has("slabs") {
		inner := o.inner("slabs")
		s.Slabs = domain.Slabs{Left: inner.count("left"), Middle: inner.count("middle"), Right: inner.count("right")}
		_ = inner.done() // kept for the whole body
	}
	if o.has("pan") {
		s.Pan = o.weight("pan")
	}
	if o.has("speed_limit") {
		s.SpeedLimit = o.speed("speed_limit")
	}
	return deed{action: domain.DraftSetting{Round: round, Setting: s}, named: named{Round: &round}}
}

func readFreeze(in *sent) deed {
	round := in.param("round")
	action := domain.FreezeSetting{Round: round, Revision: in.body.whole("revision")}
	if in.body.has("drafted") {
		action.Drafted = in.body.moment("drafted")
	}
	return deed{action: action, named: named{Round: &round}}
}

func readReset(in *sent) deed {
	round := in.param("round")
	return deed{action: domain.ResetSetting{Round: round, Reason: in.body.text("reason", maxText)}, named: named{Round: &round}}
}
