package api

import (
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"clayline/domain"
)

// revision is one numbered setting of a round. Numbers count in the round, from 1. A frozen setting is never changed:
// another revision takes its place, and the reason says why, because pullers under both are compared.
type revision struct {
	Number  int        `json:"number"`
	State   string     `json:"state"` // draft, open or closed
	Drafted time.Time  `json:"drafted"`
	Frozen  *time.Time `json:"frozen,omitempty"`
	Closed  *time.Time `json:"closed,omitempty"`
	Reason  string     `json:"reason,omitempty"`
	Card    card       `json:"card"`
}

// card is what the sled operator chooses. Box and trip are always there; what this sled does not have is left out.
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

// slabs says where the slabs lie. They are the weights that a sled operator lays into the box by hand. Piles tells them
// by their weight, and is left out where nobody said it.
type slabs struct {
	Left   int    `json:"left"`
	Middle int    `json:"middle"`
	Right  int    `json:"right"`
	Piles  []pile `json:"piles,omitempty"`
}

// pile is how many slabs of one weight lie where.
type pile struct {
	Weight *measure `json:"weight"`
	Left   int      `json:"left"`
	Middle int      `json:"middle"`
	Right  int      `json:"right"`
}

// slabsOf writes where the slabs of a setting lie.
func slabsOf(s domain.Setting) slabs {
	written := slabs{Left: s.Slabs.Left, Middle: s.Slabs.Middle, Right: s.Slabs.Right}
	for _, p := range s.Piles.List() {
		written.Piles = append(written.Piles, pile{Weight: weightOf(p.Weight), Left: p.Slabs.Left, Middle: p.Slabs.Middle, Right: p.Slabs.Right})
	}
	return written
}

// cardOf writes what the sled operator chose.
func cardOf(s domain.Setting) card {
	return card{
		Box: weightOf(s.Box), Slabs: slabsOf(s), Gear: s.Gear, StartHole: s.StartHole, Trip: distanceOf(s.Trip), Pan: weightOf(s.Pan),
		Blades: s.Blades, PushDown: s.PushDown, Device: s.Device, SpeedLimit: speedOf(s.SpeedLimit), Note: s.Note,
	}
}

// maxPiles bounds the weights of slabs in a setting; a description has no more.
const maxPiles = 50

// revisionOf writes a setting with its state. Times that have not come are left out.
func revisionOf(r domain.Revision) revision {
	state := "closed"
	switch {
	case r.Draft():
		state = "draft"
	case r.Open():
		state = "open"
	}
	return revision{
		Number: r.Number, State: state, Drafted: r.Drafted.UTC(), Frozen: moment(r.Frozen), Closed: moment(r.Closed), Reason: r.Reason,
		Card: cardOf(r.Setting),
	}
}

// setting shows the newest setting of a round, a draft too, to those who have a pass. It is read from the store and not
// from the shelf, because a draft is not public. A round without a setting is as unknown as one that is not there.
func (s *Server) setting(c echo.Context) error {
	page, err := s.staffClass(c, domain.Desk|domain.Booth|domain.Cab)
	if err != nil {
		return err
	}
	for _, r := range page.Class.Rounds {
		if n := len(r.Revisions); r.ID.String() == c.Param("round") && n > 0 {
			return send(c, http.StatusOK, revisionOf(r.Revisions[n-1]))
		}
	}
	return &domain.Error{Kind: domain.NotFound, Field: "round", Message: "there is no setting for such a round", Fix: "read the class; it has the ids of its rounds"}
}

// readDraft reads the whole card; a second draft takes the place of the first. PUT is right for that (RFC 9110, section
// 9.3.4): what is sent is what is there afterwards.
//
//	{"box": {"figures": "21600", "unit": "lb"}, "slabs": {"left": 6, "middle": 0, "right": 6}, "gear": 3,
//	 "start_hole": 2, "trip": {"figures": "198", "unit": "ft"}}
func readDraft(in *sent) deed {
	round, o := in.param("round"), in.body
	s := domain.Setting{
		Gear: o.whole("gear"), StartHole: o.whole("start_hole"), Trip: o.distance("trip"),
		Blades: o.maybe("blades"), PushDown: o.maybe("push_down"), Device: o.maybe("device"), Note: o.maybe("note"),
	}
	// Left out, the weight in the box is what the slabs weigh.
	if o.has("box") {
		s.Box = o.weight("box")
	}
	if o.has("slabs") {
		s.Slabs, s.Piles = readSlabs(o.inner("slabs"))
	}
	if o.has("pan") {
		s.Pan = o.weight("pan")
	}
	if o.has("speed_limit") {
		s.SpeedLimit = o.speed("speed_limit")
	}
	return deed{action: domain.DraftSetting{Round: round, Setting: s}, named: named{Round: &round}, sure: o.truth("confirmed")}
}

// readSlabs reads how many slabs lie where, and which. With piles the sums may be left out.
//
//	{"piles": [{"weight": {"figures": "1800", "unit": "lb"}, "left": 6, "right": 6}]}
func readSlabs(o *object) (domain.Slabs, domain.Piles) {
	counts := func(o *object) domain.Slabs {
		return domain.Slabs{Left: o.count("left"), Middle: o.count("middle"), Right: o.count("right")}
	}
	sums := counts(o)
	var list []domain.Pile
	if o.has("piles") {
		for _, item := range o.inners("piles", maxPiles) {
			list = append(list, domain.Pile{Weight: item.weight("weight"), Slabs: counts(item)})
			_ = item.done() // kept for the whole body
		}
	}
	piles, err := domain.NewPiles(list)
	if *o.wrong == nil {
		o.keep("piles", err)
	}
	_ = o.done() // kept for the whole body
	return sums, piles
}

// readFreeze reads {"revision": 1, "drafted": "2026-09-19T18:00:00.25Z"}. With drafted, which is the draft's own time,
// only the draft that was looked at is frozen, and not one that somebody wrote over it meanwhile.
func readFreeze(in *sent) deed {
	round := in.param("round")
	action := domain.FreezeSetting{Round: round, Revision: in.body.whole("revision")}
	if in.body.has("drafted") {
		action.Drafted = in.body.moment("drafted")
	}
	return deed{action: action, named: named{Round: &round}}
}

// readReset reads {"reason": "track has dried"}: the setting in force is closed, so that another can be written.
func readReset(in *sent) deed {
	round := in.param("round")
	return deed{action: domain.ResetSetting{Round: round, Reason: in.body.text("reason", maxText)}, named: named{Round: &round}}
}
