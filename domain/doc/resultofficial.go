package doc

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
)

// ResultSignature is a signature that was taken away: the revision of the result that it stood under, why the result was
// opened again, and what the next revision changed, as far as it is known by now.
type ResultSignature struct {
	Revision   int            `json:"revision"`
	At         *time.Time     `json:"at"`
	Name       string         `json:"name"`
	ReopenedAt *time.Time     `json:"reopened_at"`
	Reason     string         `json:"reason"`
	Changed    []ResultChange `json:"changed"`
}

// ResultChange is what became of an entry in the next revision: the place, null for none, and what was pulled for it.
type ResultChange struct {
	Entry string       `json:"entry"`
	From  ResultSigned `json:"from"`
	To    ResultSigned `json:"to"`
}

// ResultSigned is where an entry stood in a signed result.
type ResultSigned struct {
	Place   *int   `json:"place"`
	Shared  bool   `json:"shared"`
	Results string `json:"results"`
}

// ResultProtest is a protest against the result of an entry. Who lodged it is not told. Round and hook are empty where
// it is about no single hook; Ruling is nil while it is undecided.
type ResultProtest struct {
	Number    int            `json:"number"`
	Entry     string         `json:"entry"`
	Round     string         `json:"round"`
	Hook      *int           `json:"hook"`
	About     string         `json:"about"`
	FeeTaken  bool           `json:"fee_taken"`
	LodgedAt  *time.Time     `json:"lodged_at"`
	Late      bool           `json:"late"`
	Ruling    *domain.Ruling `json:"ruling"`
	Follows   string         `json:"follows"`
	Reason    string         `json:"reason"`
	DecidedAt *time.Time     `json:"decided_at"`
}

// earlier tells the signatures that were taken away.
func (t teller) earlier() []ResultSignature {
	list := make([]ResultSignature, len(t.class.Earlier))
	for i, s := range t.class.Earlier {
		list[i] = ResultSignature{
			Revision: i + 1, At: t.at(s.Made), Name: s.Name, ReopenedAt: t.at(s.Reopened), Reason: s.Reason, Changed: []ResultChange{},
		}
		for _, c := range t.class.Changes(i + 2) {
			list[i].Changed = append(list[i].Changed, ResultChange{Entry: t.number(c.Is.Entry), From: signedOf(c.Was), To: signedOf(c.Is)})
		}
	}
	return list
}

// signedOf tells where an entry stood.
func signedOf(s domain.Signed) ResultSigned {
	return ResultSigned{Place: known(s.Place), Shared: s.Shared, Results: s.Results}
}

// protests tells the protests in the order lodged, numbered from 1.
func (t teller) protests() []ResultProtest {
	list := make([]ResultProtest, len(t.class.Protests))
	for i, p := range t.class.Protests {
		list[i] = ResultProtest{
			Number: i + 1, Entry: t.number(p.Entry), About: p.About, FeeTaken: p.Fee, LodgedAt: t.at(p.Lodged), Late: p.Late,
			Ruling: known(p.Ruling), Follows: p.Follows.String(), Reason: p.Reason, DecidedAt: t.at(p.Decided),
		}
		if p.Hook != uuid.Nil {
			round, hook := t.class.Find(p.Hook)
			list[i].Round, list[i].Hook = round.Name.String(), known(hook.Number)
		}
	}
	return list
}

// officialColumns tell of the result as a whole, and of the protests against the entry of the line.
func officialColumns() []resultColumn {
	return []resultColumn{
		{"revision", func(l resultLine) string { return strconv.Itoa(l.class.Revision) }},
		{"earlier_signatures", func(l resultLine) string {
			list := make([]string, len(l.class.Earlier))
			for i, s := range l.class.Earlier {
				list[i] = fmt.Sprintf("revision %d, signed %s by %s, opened again %s: %s", s.Revision, stamp(s.At), s.Name, stamp(s.ReopenedAt), s.Reason)
			}
			return strings.Join(list, "; ")
		}},
		{"protests", func(l resultLine) string {
			var list []string
			for _, p := range l.class.Protests {
				if p.Entry == l.placed.Entry {
					list = append(list, p.words())
				}
			}
			return strings.Join(list, "; ")
		}},
	}
}

// words say a protest in a cell: "1: side line, upheld (video)".
func (p ResultProtest) words() string {
	words := fmt.Sprintf("%d: %s, ", p.Number, p.About)
	if p.Ruling == nil {
		return words + "undecided"
	}
	words += strings.ReplaceAll(p.Ruling.String(), "_", " ")
	if p.Reason != "" {
		words += " (" + p.Reason + ")"
	}
	return words
}
