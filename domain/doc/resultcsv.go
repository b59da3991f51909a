package doc

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
)

// resultLine is one line of a result as CSV: a hook with all that it is part of, or an entry that never hooked, whose
// hook, round, slot and setting are nil. A table has but one sort of line, so that what a hook is part of is repeated
// on each: a spreadsheet can then filter and sort by any of it.
type resultLine struct {
	event   *ResultEvent
	class   *ResultClass
	placed  *ResultPlace
	round   *ResultRound
	slot    *ResultSlot
	setting *ResultSetting
	hook    *ResultHook
}

// resultColumn is a column of a result as CSV. The cell is text as it is to be read, before any quoting.
type resultColumn struct {
	name string
	cell func(resultLine) string
}

// resultColumns are the columns in their order. Names and meanings stay; new columns come last. So a macro that goes by
// the position of a column goes on working, as one does that goes by its name.
func resultColumns() []resultColumn {
	columns := []resultColumn{
		{"event", func(l resultLine) string { return l.event.Name }},
		{"class", func(l resultLine) string { return l.class.Name }},
		ofHook("round", func(l resultLine) string { return l.round.Name }),
		ofHook("hook", func(l resultLine) string { return strconv.Itoa(l.hook.Number) }),
		ofHook("order", func(l resultLine) string { return strconv.Itoa(l.slot.Order) }),
		ofHook("order_note", func(l resultLine) string { return l.slot.Note }),
		{"entry", func(l resultLine) string { return l.placed.Entry }},
		{"puller", func(l resultLine) string { return l.placed.Puller }},
		{"vehicle", func(l resultLine) string { return l.placed.Vehicle }},
		{"home", func(l resultLine) string { return l.placed.Home }},
		ofHook("attempt", func(l resultLine) string { return strconv.Itoa(l.hook.Attempt) }),
		ofHook("test", func(l resultLine) string { return strconv.FormatBool(l.hook.Test) }),
		ofHook("outcome", func(l resultLine) string { return written(l.hook.Outcome) }),
		ofHook("distance", func(l resultLine) string { return l.hook.Distance.figures() }),
		ofHook("unit", func(l resultLine) string { return l.hook.Distance.unit() }),
		ofHook("reason", func(l resultLine) string { return l.hook.Reason }),
		ofHook("choice", func(l resultLine) string { return written(l.hook.Choice) }),
		ofHook("correction", func(l resultLine) string { return l.hook.Correction }),
	}
	return slices.Concat(columns, settingColumns(), standingColumns(), courseColumns(), officialColumns(), pointsColumns(), crewColumns(), scaleColumns(), speedColumns(), slabColumns())
}

// settingColumns tell of the setting that a hook was pulled against, and of its times. A weight and a trip point have
// figures and unit in one cell, "21600 lb": nobody adds them up. Distances have two.
func settingColumns() []resultColumn {
	return []resultColumn{
		ofHook("setting", func(l resultLine) string { return strconv.Itoa(l.setting.Revision) }),
		ofHook("setting_reason", func(l resultLine) string { return l.setting.Reason }),
		ofHook("box", func(l resultLine) string { return l.setting.Box.String() }),
		ofHook("slabs_left", func(l resultLine) string { return strconv.Itoa(l.setting.Slabs.Left) }),
		ofHook("slabs_middle", func(l resultLine) string { return strconv.Itoa(l.setting.Slabs.Middle) }),
		ofHook("slabs_right", func(l resultLine) string { return strconv.Itoa(l.setting.Slabs.Right) }),
		ofHook("gear", func(l resultLine) string { return strconv.Itoa(l.setting.Gear) }),
		ofHook("start_hole", func(l resultLine) string { return strconv.Itoa(l.setting.StartHole) }),
		ofHook("trip", func(l resultLine) string { return l.setting.Trip.String() }),
		ofHook("pan", func(l resultLine) string { return l.setting.Pan.String() }),
		ofHook("blades", func(l resultLine) string { return l.setting.Blades }),
		ofHook("push_down", func(l resultLine) string { return l.setting.PushDown }),
		ofHook("device", func(l resultLine) string { return l.setting.Device }),
		ofHook("speed_limit", func(l resultLine) string { return l.setting.SpeedLimit.String() }),
		ofHook("setting_note", func(l resultLine) string { return l.setting.Note }),
		ofHook("called_at", func(l resultLine) string { return stamp(l.hook.CalledAt) }),
		ofHook("started_at", func(l resultLine) string { return stamp(l.hook.StartedAt) }),
		ofHook("ended_at", func(l resultLine) string { return stamp(l.hook.EndedAt) }),
	}
}

// standingColumns tell where the entry stands in its class; they are the same on all its lines. Whoever wants the
// standing alone keeps one line for each entry.
func standingColumns() []resultColumn {
	return []resultColumn{
		{"class_place", func(l resultLine) string {
			if l.placed.Place == nil {
				return ""
			}
			return strconv.Itoa(*l.placed.Place)
		}},
		{"class_place_shared", func(l resultLine) string { return strconv.FormatBool(l.placed.Shared) }},
		{"class_total", func(l resultLine) string { return l.placed.Total.figures() }},
		{"class_total_unit", func(l resultLine) string { return l.placed.Total.unit() }},
		{"class_remarks", func(l resultLine) string { return strings.Join(l.placed.Remarks, "; ") }},
		{"official", func(l resultLine) string {
			if l.class.Official == nil {
				return ""
			}
			return stamp(l.class.Official.At)
		}},
		{"signed_by", func(l resultLine) string {
			if l.class.Official == nil {
				return ""
			}
			return l.class.Official.Name
		}},
	}
}

// courseColumns tell what went wrong in a hook, in the word that rule sets know, and what became of the class as a whole:
// that the line was moved, and that the class was ended before its end.
func courseColumns() []resultColumn {
	return []resultColumn{
		ofHook("cause", func(l resultLine) string { return l.hook.Cause }),
		{"line_was", func(l resultLine) string { return l.class.Rules.LineWas.String() }},
		{"stopped_at", func(l resultLine) string {
			if l.class.Stopped == nil {
				return ""
			}
			return stamp(l.class.Stopped.At)
		}},
		{"stopped_reason", func(l resultLine) string {
			if l.class.Stopped == nil {
				return ""
			}
			return l.class.Stopped.Reason
		}},
	}
}

// pointsColumns tell the points of the entry in its class, by the names that they have in a scored sheet; empty where there
// are none.
func pointsColumns() []resultColumn {
	of := func(name string, cell func(*ResultPoints) string) resultColumn {
		return resultColumn{name, func(l resultLine) string {
			if l.placed.Points == nil {
				return ""
			}
			return cell(l.placed.Points)
		}}
	}
	return []resultColumn{
		of("points", func(p *ResultPoints) string { return p.Total }),
		of("points_place", func(p *ResultPoints) string {
			if p.Place == nil {
				return ""
			}
			return strconv.Itoa(*p.Place)
		}),
		of("for_place", func(p *ResultPoints) string { return p.ForPlace }),
		of("for_show_up", func(p *ResultPoints) string { return p.ForShowUp }),
		of("for_hook", func(p *ResultPoints) string { return p.ForHook }),
		of("for_registration", func(p *ResultPoints) string { return p.ForRegistration }),
		of("points_why", func(p *ResultPoints) string { return p.Why }),
	}
}

// crewColumns tell what the crew of the sled noted of a hook.
func crewColumns() []resultColumn {
	return []resultColumn{
		ofHook("sled_noted", func(l resultLine) string { return strconv.FormatBool(l.hook.Noted) }),
	}
}

// speedColumns tell what the device read of a hook, each figure with its unit.
func speedColumns() []resultColumn {
	return []resultColumn{
		ofHook("top_speed", func(l resultLine) string { return l.hook.TopSpeed.String() }),
		ofHook("line_speed", func(l resultLine) string { return l.hook.LineSpeed.String() }),
	}
}

// slabColumns tell the slabs of the setting by their weight, in one cell: "1800 lb: 6 left, 0 middle, 6 right".
func slabColumns() []resultColumn {
	return []resultColumn{
		ofHook("piles", func(l resultLine) string {
			var cells []string
			for _, p := range l.setting.Slabs.Piles {
				cells = append(cells, fmt.Sprintf("%s: %d left, %d middle, %d right", p.Weight, p.Left, p.Middle, p.Right))
			}
			return strings.Join(cells, "; ")
		}),
	}
}

// ofHook is a column that is empty on the line of an entry that never hooked.
func ofHook(name string, cell func(resultLine) string) resultColumn {
	return resultColumn{name, func(l resultLine) string {
		if l.hook == nil {
			return ""
		}
		return cell(l)
	}}
}

// WriteCSV writes the result as CSV (RFC 4180) in UTF-8: a header, then for each class its hooks in the order called
// and its entries that never hooked. Line breaks inside a cell are single line feeds. No cell begins like a formula,
// since a spreadsheet would compute a vehicle that is called =1+1. The first cells of a line:
//
//	Harvest Pull,"8,200 lb Field Stock",1,1,1,,41,Maud Farrow,Brindle Ox,Wrenfield,1,true,measured,281.36,ft
//
// Nothing is written to w before all of it is there, and the error is w's.
func (r Result) WriteCSV(w io.Writer) error {
	var out bytes.Buffer
	columns := resultColumns()
	cells := make([]string, len(columns))
	for i, c := range columns {
		cells[i] = c.name
	}
	writeRecord(&out, cells)
	for i := range r.Classes {
		for _, line := range r.Classes[i].lines(&r.Event) {
			for j, c := range columns {
				cells[j] = c.cell(line)
			}
			writeRecord(&out, cells)
		}
	}
	if _, err := out.WriteTo(w); err != nil {
		return fmt.Errorf("writing a result: %w", err)
	}
	return nil
}

// lines lays a class out in lines: every hook of every round, then the entries that never hooked. Every entry of the
// class is on one line at least. An entry's place is found by its number, which is its own in the class.
func (r *ResultClass) lines(event *ResultEvent) []resultLine {
	var lines []resultLine
	placed := make(map[string]*ResultPlace, len(r.Standing))
	for i := range r.Standing {
		placed[r.Standing[i].Entry] = &r.Standing[i]
	}
	hooked := make(map[string]bool, len(r.Standing))
	for i := range r.Rounds {
		for _, line := range r.Rounds[i].lines() {
			line.event, line.class, line.placed = event, r, placed[line.hook.Entry]
			lines = append(lines, line)
			hooked[line.hook.Entry] = true
		}
	}
	for i := range r.Standing {
		if p := &r.Standing[i]; !hooked[p.Entry] {
			lines = append(lines, resultLine{event: event, class: r, placed: p})
		}
	}
	return lines
}

// lines lays a round out in lines, one a hook, with its slot and its setting. Every hook has both: only who is in the
// line-up is called, and only against a frozen setting.
func (r *ResultRound) lines() []resultLine {
	slots := make(map[string]*ResultSlot, len(r.LineUp))
	for i := range r.LineUp {
		slots[r.LineUp[i].Entry] = &r.LineUp[i]
	}
	settings := make(map[int]*ResultSetting, len(r.Settings))
	for i := range r.Settings {
		settings[r.Settings[i].Revision] = &r.Settings[i]
	}
	lines := make([]resultLine, len(r.Hooks))
	for i := range r.Hooks {
		h := &r.Hooks[i]
		lines[i] = resultLine{round: r, slot: slots[h.Entry], setting: settings[h.Revision], hook: h}
	}
	return lines
}

// writeRecord writes one record. The standard library's writer would turn a line feed inside a cell into two
// characters, and its own reader back into one, so that two readers would not see the same text. Quotes stand only
// where RFC 4180, section 2, asks for them: around a cell with a quote, a comma or a line break. A quote in it is
// doubled, and the record ends with CR LF, the last one too.
func writeRecord(out *bytes.Buffer, cells []string) {
	for i, s := range cells {
		if i > 0 {
			out.WriteByte(',')
		}
		s = plain(oneBreak.Replace(strings.TrimSpace(s)))
		if strings.ContainsAny(s, "\",\n") {
			s = `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
		}
		out.WriteString(s)
	}
	out.WriteString("\r\n")
}

// oneBreak makes every line break a single line feed. The pair comes first, so that it does not become two.
var oneBreak = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// figures are the digits alone, "" for none.
func (m *Measure) figures() string {
	if m == nil {
		return ""
	}
	return m.Value
}

// unit is the unit alone, "" for none.
func (m *Measure) unit() string {
	if m == nil {
		return ""
	}
	return m.Unit
}

// written is the word for a value, "" for none.
func written[T fmt.Stringer](value *T) string {
	if value == nil {
		return ""
	}
	return (*value).String()
}

// stamp writes a time as RFC 3339 does, "" for none. It has the offset of the event's zone: 2026-09-19T13:04:11-05:00.
func stamp(t *time.Time) string {
	if t == nil {
		return ""
	}
	return t.Format(time.RFC3339)
}
