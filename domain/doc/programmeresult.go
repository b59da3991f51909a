package doc

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"
	"time"

	"clayline/domain/sequence"
)

// ProgrammeResult is the proposal for a programme. All figures are minutes.
//
//	{"order": [{"class": "Antique", "session": "Evening", "track": "Track", "place": 1, …}, …],
//	 "cost": {"box": 10, "track": 5, …, "total": 15}, "bound": 15, "exact": true, …}
type ProgrammeResult struct {
	Order     []ProgrammeTurn `json:"order"`
	Cost      ProgrammeCost   `json:"cost"`
	AsWritten ProgrammeCost   `json:"as_written"` // of the classes in the order of the document, places aside
	Bound     float64         `json:"bound"`      // no order costs less
	Exact     bool            `json:"exact"`      // the proposal costs no more than that
	Notes     []string        `json:"notes"`      // how good the proposal is, and what it cannot keep
	Caution   string          `json:"caution"`
}

// ProgrammeTurn is a class in its place on its track in its session.
type ProgrammeTurn struct {
	Class   string         `json:"class"`
	Session string         `json:"session"`
	Track   string         `json:"track"`
	Place   int            `json:"place"` // from 1
	Starts  string         `json:"starts"`
	Ends    string         `json:"ends"`
	Box     float64        `json:"box"` // the change before it, 0 for the first of a session
	Prepare float64        `json:"prepare"`
	Change  string         `json:"change"` // of the box, in words
	Waiting float64        `json:"waiting"`
	Late    float64        `json:"late_start"`
	Up      *ProgrammeCost `json:"one_up"`   // what it costs more there; null where it cannot be moved
	Down    *ProgrammeCost `json:"one_down"` // likewise
}

// ProgrammeCost is what an order costs, or costs more than another. Total counts a minute of the last two as often as the
// weights of the programme say.
type ProgrammeCost struct {
	Box     float64 `json:"box"`
	Track   float64 `json:"track"`
	Waiting float64 `json:"waiting"`
	Late    float64 `json:"late_start"`
	Past    float64 `json:"past_curfew"`
	Total   float64 `json:"total"`
}

// programmeCost writes what an order costs more than another; than nothing, what it costs.
func programmeCost(c, than sequence.Cost) ProgrammeCost {
	return ProgrammeCost{
		Box: (c.Box - than.Box).Minutes(), Track: (c.Track - than.Track).Minutes(), Waiting: (c.Wait - than.Wait).Minutes(),
		Late: (c.Late - than.Late).Minutes(), Past: (c.Overrun - than.Overrun).Minutes(), Total: (c.Total - than.Total).Minutes(),
	}
}

// Propose puts the classes in order. A programme that was read has a proposal; the error is of one that was not.
func (p Programme) Propose() (ProgrammeResult, error) {
	best, err := p.problem.Propose()
	if err != nil {
		return ProgrammeResult{}, err
	}
	written, err := p.problem.Evaluate(p.asWritten())
	if err != nil {
		return ProgrammeResult{}, err
	}
	r := ProgrammeResult{
		Order: p.turns(best), Cost: programmeCost(best.Cost, sequence.Cost{}), AsWritten: programmeCost(written.Cost, sequence.Cost{}),
		Bound: best.Bound.Minutes(), Exact: best.Exact, Notes: p.notes(best), Caution: programmeCaution,
	}
	if !written.Exact {
		r.Notes = append(r.Notes, "The tracks have much in common: as written, and where a class is moved, it may cost less than is said here.")
	}
	err = p.moves(best, r.Order)
	return r, err
}

// programmeCaution stands with every proposal.
const programmeCaution = "All times are estimates. What the crew needs to work without haste, the crew says; local rules and officials come first."

// asWritten lists the classes in the order of the document, session by session.
func (p Programme) asWritten() []string {
	list := slices.Clone(p.problem.Classes)
	slices.SortStableFunc(list, func(a, b sequence.Class) int { return cmp.Compare(a.Sessions[0], b.Sessions[0]) })
	ids := make([]string, len(list))
	for i, c := range list {
		ids[i] = c.ID
	}
	return ids
}

// index finds a class by its name.
func (p Programme) index(name string) int {
	return slices.IndexFunc(p.problem.Classes, func(c sequence.Class) bool { return c.ID == name })
}

// turns writes an order by session, track and start.
func (p Programme) turns(o sequence.Order) []ProgrammeTurn {
	turns := slices.Clone(o.Turns)
	slices.SortStableFunc(turns, func(a, b sequence.Turn) int {
		return cmp.Or(cmp.Compare(a.Session, b.Session), cmp.Compare(a.Track, b.Track), cmp.Compare(a.Start, b.Start))
	})
	list := make([]ProgrammeTurn, len(turns))
	for i, t := range turns {
		list[i] = ProgrammeTurn{
			Class: t.Class, Session: p.sessions[t.Session], Track: p.tracks[t.Track], Place: 1,
			Starts: p.zero.Add(t.Start).Format(time.RFC3339), Ends: p.zero.Add(t.End).Format(time.RFC3339),
			Box: t.Change.Box.Minutes(), Prepare: t.Change.Track.Minutes(), Waiting: t.Wait.Minutes(), Late: t.Late.Minutes(),
		}
		if i > 0 && turns[i-1].Session == t.Session && turns[i-1].Track == t.Track {
			_, list[i].Change = p.work.Change(&p.classes[p.index(turns[i-1].Class)], &p.classes[p.index(t.Class)])
			list[i].Place = list[i-1].Place + 1
		}
	}
	return list
}

// moves adds what it costs to make each class one sooner or later, in the session that it is in. A class that has its
// place stays there, and so does the one beside it.
func (p Programme) moves(best sequence.Order, list []ProgrammeTurn) error {
	here := p.problem
	here.Classes = slices.Clone(here.Classes)
	names := make([]string, len(list))
	for i, t := range list {
		names[i] = t.Class
		class := &here.Classes[p.index(t.Class)]
		class.Sessions = []int{slices.Index(p.sessions, t.Session)}
		if slices.Contains(best.Loosened, t.Class) {
			class.Place = 0
		}
	}
	orders, err := here.Orders()
	if err != nil {
		return err
	}
	free := func(i int) bool { return here.Classes[p.index(names[i])].Place == 0 }
	for i := 1; i < len(list); i++ {
		if list[i].Place == 1 || !free(i-1) || !free(i) {
			continue
		}
		swapped := slices.Clone(names)
		swapped[i-1], swapped[i] = swapped[i], swapped[i-1]
		moved, err := orders.Evaluate(swapped)
		if err != nil {
			return err
		}
		cost := programmeCost(moved.Cost, best.Cost)
		list[i].Up, list[i-1].Down = &cost, &cost
	}
	return nil
}

// notes says how good a proposal is and what it cannot keep, with what to do.
func (p Programme) notes(o sequence.Order) []string {
	list := []string{"No order that keeps what is asked for costs less."}
	if !o.Exact {
		list[0] = fmt.Sprintf("No order costs less than %s min, so that this one may be %s min above the best.", minutesOf(o.Bound), minutesOf(o.Cost.Total-o.Bound))
	}
	for _, name := range o.Loosened {
		list = append(list, name+" cannot keep its place together with the others that have one; here it is free.")
	}
	ends := make([]time.Duration, len(p.sessions))
	for _, t := range o.Turns {
		ends[t.Session] = max(ends[t.Session], t.End)
		if t.Late > 0 {
			list = append(list, fmt.Sprintf("%s begins %s min after its fixed start.", t.Class, minutesOf(t.Late)))
		}
	}
	for i, s := range p.problem.Sessions {
		if s.Curfew > 0 && ends[i] > s.Curfew {
			list = append(list, fmt.Sprintf("%s ends %s min past its curfew; take a class out, give it another session, or begin earlier.", p.sessions[i], minutesOf(ends[i]-s.Curfew)))
		}
	}
	return list
}

// minutesOf writes a time in minutes, to a tenth.
func minutesOf(d time.Duration) string { return tenths(d.Round(6 * time.Second).Minutes()) }

// tenths writes minutes with one decimal at most.
func tenths(minutes float64) string {
	text := strings.TrimSuffix(strconv.FormatFloat(minutes, 'f', 1, 64), ".0")
	if text == "-0" {
		return "0"
	}
	return text
}

// WriteJSON writes the result as indented JSON.
func (r ProgrammeResult) WriteJSON(w io.Writer) error {
	return writeJSON(w, r)
}

// WriteText writes the result as a table, a row a class, with what it costs and the notes below.
func (r ProgrammeResult) WriteText(w io.Writer) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "session\ttrack\tstarts\tclass\tbefore it, min\tone up\tone down")
	for _, t := range r.Order {
		at, err := time.Parse(time.RFC3339, t.Starts)
		if err != nil {
			return err
		}
		fmt.Fprintln(table, strings.Join([]string{t.Session, t.Track, at.Format("02 Jan 15:04"), t.Class, t.before(), t.Up.more(), t.Down.more()}, "\t"))
	}
	if err := table.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\n%s\n%s\n%s\n", r.Cost.says("this order"), r.AsWritten.says("as written"), strings.Join(append(slices.Clone(r.Notes), r.Caution), "\n"))
	return err
}

// before says what lies before a class.
func (t ProgrammeTurn) before() string {
	var parts []string
	if t.Change != "" {
		parts = append(parts, tenths(t.Box)+" box: "+t.Change, tenths(t.Prepare)+" track")
	}
	if t.Waiting > 0 {
		parts = append(parts, tenths(t.Waiting)+" waiting")
	}
	return strings.Join(parts, "; ")
}

// more is what a move costs: "+4.5"; a dash where there is none.
func (c *ProgrammeCost) more() string {
	switch {
	case c == nil:
		return "-"
	case c.Total > 0:
		return "+" + tenths(c.Total)
	default:
		return tenths(c.Total)
	}
}

// says is what an order costs in words.
func (c ProgrammeCost) says(what string) string {
	return fmt.Sprintf("%s: %s min (box %s, track %s, waiting %s, late start %s, past the curfew %s)",
		what, tenths(c.Total), tenths(c.Box), tenths(c.Track), tenths(c.Waiting), tenths(c.Late), tenths(c.Past))
}
