package doc

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"clayline/domain/draw"
)

// maxDrawBytes bounds the document of a draw; the longest that can be drawn has a tenth of it.
const maxDrawBytes = 1 << 20

// Drawing is what a draw is made of, by the numbers of the vehicles, and the draw once it was made: the document that
// clayline draw reads and writes. docs/draw.md explains each field.
type Drawing struct {
	Seed       string       `json:"seed"`
	Commitment string       `json:"commitment,omitempty"`
	Reveal     string       `json:"reveal,omitempty"`
	Entries    []string     `json:"entries"`
	Apart      []DrawApart  `json:"apart"`
	Fixed      []DrawPlace  `json:"fixed"`
	Late       []string     `json:"late"`
	Draw       *DrawOutcome `json:"draw,omitempty"`
}

// DrawApart are entries with at least Between others between any two of them. Name says whose they are, for readers.
type DrawApart struct {
	Name    string   `json:"name,omitempty"`
	Between int      `json:"between"`
	Entries []string `json:"entries"`
}

// DrawPlace is the place that an official gave an entry, from 1.
type DrawPlace struct {
	Entry string `json:"entry"`
	Place int    `json:"place"`
}

// DrawOutcome is the proof of a draw. Either Try is there, from 1, or List. Kept and Proven go with the groups in Apart:
// how many others lie at least between two, and whether more is proven to be impossible.
type DrawOutcome struct {
	From   string      `json:"from"`
	Try    int         `json:"try,omitempty"`
	List   *DrawListed `json:"list,omitempty"`
	Kept   []int       `json:"kept"`
	Proven []bool      `json:"proven"`
	Order  []DrawnTurn `json:"order"`
}

// DrawListed is a place, from 0, in the sorted list of all orders that keep the rules, and how many those are. Both are
// decimal figures and may have more digits than a number of JSON can hold.
type DrawListed struct {
	Place  string `json:"place"`
	Orders string `json:"orders"`
}

// DrawnTurn is one place of the order. Hash is what placed the entry, missing where none did.
type DrawnTurn struct {
	Entry string `json:"entry"`
	Hash  string `json:"hash,omitempty"`
}

// ReadDrawing reads what is to be drawn, or a proof: JSON when it begins with a brace, else lines of words. It refuses
// with a [draw.Problem] what is not understood; whether it can be drawn, [Drawing.Make] says.
func ReadDrawing(r io.Reader) (Drawing, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxDrawBytes+1))
	switch {
	case err != nil:
		return Drawing{}, err
	case len(text) > maxDrawBytes:
		return Drawing{}, &draw.Problem{Message: "the document is longer than 1 MB", Fix: "give one class at a time"}
	case !utf8.Valid(text):
		return Drawing{}, &draw.Problem{Message: "the document is not UTF-8", Fix: "save it as UTF-8"}
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if bytes.HasPrefix(bytes.TrimSpace(text), []byte("{")) {
		return drawingOfJSON(text)
	}
	return drawingOfLines(string(text))
}

// drawingOfJSON reads the JSON form. A field that is misspelled must not be ignored: a rule would be lost.
func drawingOfJSON(text []byte) (d Drawing, err error) {
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.DisallowUnknownFields()
	if err = decoder.Decode(&d); err == nil {
		if _, more := decoder.Token(); !errors.Is(more, io.EOF) {
			err = errors.New("something follows the object")
		}
	}
	if wrong, ok := errors.AsType[*json.UnmarshalTypeError](err); ok {
		return Drawing{}, &draw.Problem{Field: wrong.Field, Message: fmt.Sprintf("%s takes no value of the kind %q", cmp.Or(wrong.Field, "the document"), wrong.Value), Fix: "write it as docs/draw.md shows"}
	}
	if err != nil {
		return Drawing{}, &draw.Problem{Message: "the document is not understood: " + strings.TrimPrefix(err.Error(), "json: "), Fix: "write it as docs/draw.md shows"}
	}
	return d, nil
}

// drawingOfLines reads the plain form: a word a line that says what follows.
func drawingOfLines(text string) (d Drawing, err error) {
	for i, line := range strings.Split(text, "\n") {
		word, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
		if word == "" || strings.HasPrefix(word, "#") {
			continue
		}
		if problem := d.line(strings.ToLower(word), strings.TrimSpace(rest)); problem != nil {
			problem.Message = fmt.Sprintf("line %d: %s", i+1, problem.Message)
			return Drawing{}, problem
		}
	}
	return d, nil
}

// line reads one line. What can stand once is refused the second time: it cannot be told which is meant.
func (d *Drawing) line(word, rest string) *draw.Problem {
	words := strings.Fields(rest)
	if len(words) == 0 {
		return &draw.Problem{Field: word, Message: "nothing stands behind " + word, Fix: "write what it is about, or take the line out"}
	}
	switch word {
	case "seed":
		return once(word, &d.Seed, rest)
	case "commitment":
		return once(word, &d.Commitment, rest)
	case "reveal":
		return once(word, &d.Reveal, rest)
	case "entries":
		d.Entries = append(d.Entries, words...)
	case "late":
		d.Late = append(d.Late, words...)
	case "apart":
		between, err := strconv.Atoi(words[0])
		if err != nil || len(words) < 2 {
			return &draw.Problem{Field: "groups", Message: "it is not said how far who is apart", Fix: "write it like apart 3 41 7"}
		}
		d.Apart = append(d.Apart, DrawApart{Between: between, Entries: words[1:]})
	case "place":
		place, err := strconv.Atoi(words[0])
		if err != nil || len(words) != 2 {
			return &draw.Problem{Field: "fixed", Message: "it is not said who has which place", Fix: "write it like place 1 41"}
		}
		d.Fixed = append(d.Fixed, DrawPlace{Entry: words[1], Place: place})
	default:
		return &draw.Problem{Message: word + " is not known", Fix: "begin the line with seed, commitment, reveal, entries, apart, place or late"}
	}
	return nil
}

// once keeps what may stand on one line only.
func once(word string, into *string, text string) *draw.Problem {
	if *into != "" {
		return &draw.Problem{Field: word, Message: word + " stands twice", Fix: "leave one line of it"}
	}
	*into = text
	return nil
}

// ruleNames says which rule it is that names nobody, by the field that [draw.Problem] has for it.
var ruleNames = map[string]string{"groups": "a group", "fixed": "a fixed place", "late": "the list of late entries"}

// rules finds the numbers among the entries.
func (d Drawing) rules() (rules draw.Rules, err error) {
	find := func(field, number string) int {
		at := slices.Index(d.Entries, number)
		switch {
		case err != nil:
		case strings.TrimSpace(number) == "":
			err = &draw.Problem{Field: field, Message: ruleNames[field] + " names nobody", Fix: "write the number of the vehicle"}
		case at < 0:
			err = &draw.Problem{Field: field, Message: number + " is not among the entries", Fix: "enter it, or correct the number"}
		}
		return at
	}
	for _, g := range d.Apart {
		group := draw.Group{Between: g.Between}
		for _, number := range g.Entries {
			group.Members = append(group.Members, find("groups", number))
		}
		rules.Groups = append(rules.Groups, group)
	}
	for _, f := range d.Fixed {
		rules.Fixed = append(rules.Fixed, draw.Fixed{Member: find("fixed", f.Entry), Place: f.Place})
	}
	for _, number := range d.Late {
		rules.Late = append(rules.Late, find("late", number))
	}
	return rules, err
}

// Make draws, and returns the document with its proof; a proof that it had is not looked at. The seed is written as it
// was used, and so are the commitment and the secret text.
func (d Drawing) Make() (Drawing, error) {
	if draw.Clean(d.Seed) == "" && len(d.Entries) == 0 {
		return d, &draw.Problem{Message: "the document says nothing of what is to be drawn", Fix: "write a line seed with words or dice that nobody could choose, and a line entries with the numbers, as docs/draw.md shows"}
	}
	if d.Commitment != "" {
		read, err := draw.ReadCommitment(d.Commitment)
		if err != nil {
			return d, err
		}
		d.Commitment = read
	}
	from, err := draw.Seed(d.Seed, d.Reveal, d.Commitment)
	if err != nil {
		return d, err
	}
	rules, err := d.rules()
	if err != nil {
		return d, err
	}
	drawn, err := draw.Draw(from, d.Entries, rules)
	if err != nil {
		return d, err
	}
	d.Seed, d.Reveal = draw.Clean(d.Seed), draw.Clean(d.Reveal)
	d.Draw = d.outcome(from, drawn)
	// Lists are lists in JSON, also when nothing is in them.
	d.Apart, d.Fixed, d.Late = append([]DrawApart{}, d.Apart...), append([]DrawPlace{}, d.Fixed...), append([]string{}, d.Late...)
	return d, nil
}

// outcome writes down what was drawn. Who had a place beforehand has no hash, and nobody has one in an order from the
// list.
func (d Drawing) outcome(from string, drawn draw.Drawn) *DrawOutcome {
	o := &DrawOutcome{From: from, Try: drawn.Try, Kept: append([]int{}, drawn.Kept...), Proven: append([]bool{}, drawn.Proven...)}
	if drawn.Try == 0 {
		o.List = &DrawListed{Place: drawn.Place.String(), Orders: drawn.Listed.String()}
	}
	for _, at := range drawn.Order {
		o.Order = append(o.Order, o.turn(d, d.Entries[at]))
	}
	return o
}

// turn is one place of the order, with the hash that it came by.
func (o *DrawOutcome) turn(d Drawing, number string) DrawnTurn {
	turn := DrawnTurn{Entry: number}
	if o.Try > 0 && !d.given(number) {
		turn.Hash = draw.Key(draw.TrySeed(o.From, o.Try), number)
	}
	return turn
}

// given reports whether an entry has its place without being drawn.
func (d Drawing) given(number string) bool {
	return slices.Contains(d.Late, number) || slices.ContainsFunc(d.Fixed, func(f DrawPlace) bool { return f.Entry == number })
}

// Write writes the document as indented JSON that ends with a line feed.
func (d Drawing) Write(w io.Writer) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(d)
}
