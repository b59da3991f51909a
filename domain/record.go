package domain

import (
	"fmt"
	"slices"
)

// Mark is a hook that counts, as far as records need it. Distances are comparable neither between sleds nor between
// settings of one: a record is kept for a class on a track with a sled, and says under which setting it was made. (No
// published procedure for records was found; that they are kept so is common practice.)
type Mark struct {
	// Class, Track and Sled are names; marks with the same ones are compared.
	Class, Track, Sled string
	// Event, Round and Setting say where and under what it was made; Setting as the sled crew wrote it, "" where nobody did.
	Event, Setting string
	Round          RoundName
	// Number is that of the vehicle, Holder the driver's name where it is known.
	Number, Holder string
	Result         Result
}

// Records returns the farthest mark of each class, track and sled, in the order in which they first occur. The marks are in
// the order in which they were made: an equal mark that was made later takes no record. A result without a distance that
// was read makes none, because a full pull without a figure says only that it reached the line.
//
//	FP 312.44 at the first event, 312.440 at the second    the first holds
//	DQ 330                                                  no record
func Records(marks []Mark) []Mark {
	var records []Mark
	for _, m := range marks {
		if !m.Result.Reached() || m.Result.Distance.IsZero() {
			continue
		}
		i := slices.IndexFunc(records, func(r Mark) bool { return r.Class == m.Class && r.Track == m.Track && r.Sled == m.Sled })
		switch {
		case i < 0:
			records = append(records, m)
		case m.Result.Distance.Compare(records[i].Result.Distance) > 0:
			records[i] = m
		}
	}
	return records
}

// Marks lists every hook of the class that counts, in the order of the rounds and in each of the hooks, under the names of
// an event and a track. A hook of an entry that a correction took out of a round is not among them. It says of each under
// which setting it was made; see [Setting.Brief].
func (c *Class) Marks(event, track string) []Mark {
	var marks []Mark
	for i := range c.Rounds {
		r := &c.Rounds[i]
		for _, h := range r.Hooks {
			if !h.Result.Reached() || !c.wasIn(r, h.Entry) {
				continue
			}
			e := c.Entry(h.Entry)
			m := Mark{Class: c.Name, Track: track, Sled: c.Sled.Name, Event: event, Round: r.Name, Number: e.Number, Holder: e.Details.Puller, Result: h.Result}
			for _, rev := range r.Revisions {
				if rev.Number == h.Revision {
					m.Setting = rev.Setting.Brief()
				}
			}
			marks = append(marks, m)
		}
	}
	return marks
}

// Brief is a setting in one line, as far as it decides how the load grows along the track: "21,600 lb, gear 3, hole 2, trip
// 198 ft".
func (s Setting) Brief() string {
	return fmt.Sprintf("%s, gear %d, hole %d, trip %s", s.Box, s.Gear, s.StartHole, s.Trip)
}
