package doc

import (
	"time"

	"github.com/google/uuid"
)

// ResultReading is what the scale showed for an entry. Within says whether that is within limit and tolerance.
type ResultReading struct {
	Weight *Measure   `json:"weight"`
	When   string     `json:"when"`
	At     *time.Time `json:"at"`
	Within bool       `json:"within"`
}

// when says whether a reading was taken before the hook or after it.
var whenWords = map[bool]string{false: "before", true: "after"}

// weighed tells the last reading of an entry that counts, nil for none.
func (t teller) weighed(entry uuid.UUID) *ResultReading {
	w := t.class.Weighing(entry)
	last := w.After
	if last.Weight.IsZero() {
		last = w.Before
	}
	if last.Weight.IsZero() {
		return nil
	}
	return &ResultReading{Weight: weight(last.Weight), When: whenWords[last.After], At: t.at(last.At), Within: t.class.Rules.Weight.Within(last.Weight)}
}

// scaleColumns tell of the entry's last reading; they are the same on all its lines, and empty where there is none.
func scaleColumns() []resultColumn {
	of := func(name string, cell func(*ResultReading) string) resultColumn {
		return resultColumn{name, func(l resultLine) string {
			if l.placed.Weighed == nil {
				return ""
			}
			return cell(l.placed.Weighed)
		}}
	}
	return []resultColumn{
		of("weighed", func(r *ResultReading) string { return r.Weight.String() }),
		of("weighed_when", func(r *ResultReading) string { return r.When }),
		of("weighed_at", func(r *ResultReading) string { return stamp(r.At) }),
	}
}
