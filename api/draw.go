package api

import (
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// draw is how the order of a class came about; docs/draw.md says how anybody computes it again. Times counts how often
// the class was drawn; of more than one draw the last is told, with the reason for it.
type draw struct {
	Seed   string      `json:"seed"`
	At     time.Time   `json:"at"`
	Order  []uuid.UUID `json:"order"`
	Times  int         `json:"times"`
	Reason string      `json:"reason,omitempty"`
	// Public and the commitment are the parts of the seed. Try is missing where the order was taken from the list.
	Public     string      `json:"public,omitempty"`
	Commitment *commitment `json:"commitment,omitempty"`
	Reveal     string      `json:"reveal,omitempty"`
	Try        int         `json:"try,omitempty"`
	List       *listed     `json:"list,omitempty"`
	Apart      []apart     `json:"apart"`
	Fixed      []seat      `json:"fixed"`
}

// commitment is the published hash of a secret text: of a draw to come in a class, and of one that was made in a draw.
type commitment struct {
	Hash   string    `json:"hash"`
	At     time.Time `json:"at"`
	Reason string    `json:"reason,omitempty"`
}

// listed is a place, from 0, in the list of all orders that keep the rules. Its figures are text, because they may be
// longer than a number can be.
type listed struct {
	Place  string `json:"place"`
	Orders string `json:"orders"`
}

// apart are the entries of one driver, with what was asked for and what is kept between any two of them.
type apart struct {
	Entries []uuid.UUID `json:"entries"`
	Between int         `json:"between"`
	Kept    int         `json:"kept"`
	Proven  bool        `json:"proven"`
}

// seat is a place that an official gave.
type seat struct {
	Entry uuid.UUID `json:"entry"`
	Place int       `json:"place"`
}

// drawOf writes the draw, nil while the class is not drawn.
func drawOf(d domain.Draw) *draw {
	if d.Times == 0 {
		return nil
	}
	told := &draw{
		Seed: d.Seed, At: d.Drawn.UTC(), Order: d.Order, Times: d.Times, Reason: d.Reason,
		Public: d.How.Public, Commitment: commitmentOf(d.How.Promise), Reveal: d.How.Reveal, Try: d.How.Try, Apart: []apart{}, Fixed: []seat{},
	}
	if d.How.Listed != "" {
		told.List = &listed{d.How.Place, d.How.Listed}
	}
	for _, g := range d.How.Groups {
		told.Apart = append(told.Apart, apart(g))
	}
	for _, s := range d.How.Fixed {
		told.Fixed = append(told.Fixed, seat(s))
	}
	return told
}

// commitmentOf writes a commitment, nil for none.
func commitmentOf(p domain.Promise) *commitment {
	if p.Hash == "" {
		return nil
	}
	return &commitment{Hash: p.Hash, At: p.Made.UTC(), Reason: p.Reason}
}

// readDraw reads {"seed": "dice 4 2 6, crowd says 17"}. The seed is what people agreed on in front of everybody; it is
// never made here, because nobody would believe it; where the
// rules draw nothing it may be left out. Round is the id of the first round, which the draw opens.
func readDraw(in *sent) deed {
	round := in.fresh("round")
	action := domain.DrawClass{
		Round: round, Seed: in.body.maybe("seed"), Reason: in.body.maybe("reason"), Reveal: in.body.maybe("reveal"), Between: in.body.count("between"),
	}
	if in.body.has("fixed") {
		for _, o := range in.body.inners("fixed", domain.MaxDrawn) {
			action.Fixed = append(action.Fixed, domain.Seat{Entry: o.id("entry"), Place: o.whole("place")})
			in.body.keep("fixed", o.done())
		}
	}
	return deed{action: action, fields: map[string]string{"id": "round"}}
}

// readCommit reads {"commitment": "877d…"}: the hash of a text that the next draw must reveal.
func readCommit(in *sent) deed {
	return deed{action: domain.Commit{Hash: in.body.text("commitment", maxText), Reason: in.body.maybe("reason")}}
}

// readSwap reads {"entry": "0b…", "with": "9b…", "reason": "one trailer"}: two entries that change places.
func readSwap(in *sent) deed {
	return deed{action: domain.Swap{Entry: in.body.id("entry"), With: in.body.id("with"), Reason: in.body.text("reason", maxText)}}
}
