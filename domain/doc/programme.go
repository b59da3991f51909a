package doc

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/sequence"
)

// MaxProgramme is how many bytes a programme may have.
const MaxProgramme = 1 << 20

// Programme is a day's programme that was read and found in order, ready to be put into the order of classes that costs
// little. docs/programme.md has every field. The shortest one, two classes of an evening:
//
//	{"sessions": [{"name": "Evening", "starts": "2026-09-19T18:00:00-05:00"}],
//	 "classes": [{"name": "Antique", "hooks": 12}, {"name": "Farm stock", "minutes": 45}]}
type Programme struct {
	problem  sequence.Problem
	zero     time.Time // in the offset that the first session was written with
	sessions []string
	tracks   []string
	classes  []domain.Class // name and setting, what [domain.Work.Change] compares
	work     domain.Work
}

// programmeReader reads the fields of a programme or of a group in it, with the bounds that [programmeFields] has for
// them.
type programmeReader struct {
	fields
	of *Programme
}

// ReadProgramme reads one programme of up to [MaxProgramme] bytes. What is unknown, missing, of the wrong kind, out of
// range or contradictory is refused, and nothing is guessed: a domain error of kind Invalid names the field in its
// message too. What was read has a proposal.
func ReadProgramme(r io.Reader) (Programme, error) {
	found, err := readRoot(r, MaxProgramme, "programme", "put one day in order at a time")
	if err != nil {
		return Programme{}, err
	}
	var wrong error
	var p Programme
	f := programmeReader{fields{members: found, err: &wrong}, &p}
	f.only(programmeNames("")...)
	f.tracks()
	f.costs()
	f.sessions()
	f.classes()
	f.shared()
	if wrong == nil {
		wrong = p.check()
	}
	return p, wrong
}

// within returns the reader of a group, refusing what is not known in it.
func (f programmeReader) within(n node) programmeReader {
	group := programmeReader{f.object(n), f.of}
	group.only(programmeNames(n.path)...)
	return group
}

// figure reads a number within the bounds of its field.
func (f programmeReader) figure(name string) float64 {
	field := programmeFieldAt(f.at(name))
	if field.needed {
		return f.number(name, field.span())
	}
	return f.numberOr(name, field.span(), field.fallback())
}

// count reads a whole number within the bounds of its field.
func (f programmeReader) count(name string) int {
	x := f.figure(name)
	if x != math.Trunc(x) {
		f.refuse(name, fmt.Sprintf("cannot be %v", x), "write a whole number")
	}
	return int(x)
}

// minutes reads a time that something takes, to the second.
func (f programmeReader) minutes(name string) time.Duration {
	return time.Duration(math.Round(f.figure(name)*60)) * time.Second
}

// items reads a list within the bounds of its field.
func (f programmeReader) items(name string) []node {
	field := programmeFieldAt(f.at(name))
	list := f.list(name, field.most)
	switch {
	case field.needed && !f.has(name):
		f.refuse(name, "is missing", "write a list; docs/programme.md says what stands in it")
	case f.has(name) && len(list) < field.least:
		f.refuse(name, "has too few values", fmt.Sprintf("write at least %d", field.least))
	}
	return list
}

// called reads a name that must be there and be seen; see [domain.Shown].
func (f programmeReader) called(name string) string {
	text := strings.Join(strings.Fields(f.text(name, "")), " ")
	switch {
	case !f.has(name):
		f.refuse(name, "is missing", "write a name")
	case text == "":
		f.refuse(name, "is empty", "write a name")
	case !domain.Shown(text):
		f.refuse(name, "holds a character that cannot be seen", "write it as plain text")
	}
	return text
}

// moment reads a time; the zero time where it is left out and may be.
func (f programmeReader) moment(name string) time.Time {
	const wanted = "write a time with its offset from UTC, such as 2026-09-19T18:00:00-05:00"
	text := f.text(name, "")
	if !f.has(name) {
		if programmeFieldAt(f.at(name)).needed {
			f.refuse(name, "is missing", wanted)
		}
		return time.Time{}
	}
	at, err := time.Parse(time.RFC3339, text)
	if err != nil || at.Year() < 1900 || at.Year() > 2999 {
		f.refuse(name, fmt.Sprintf("cannot be %q", text), wanted)
	}
	return at
}

// pick reads the name of something that the programme lists, and returns its index; -1 where it is refused.
func (f programmeReader) pick(name, kind string, list []string) int {
	text := f.called(name)
	i := slices.Index(list, text)
	if i < 0 && text != "" {
		f.refuse(name, fmt.Sprintf("%q is no %s of the programme", text, kind), "write "+strings.Join(list, ", "))
	}
	return i
}

// picks reads a list of names of what the programme lists, each once, and returns their indexes, the least first.
func (f programmeReader) picks(name, kind string, list []string) []int {
	var found []int
	for i, n := range f.items(name) {
		item := f.itemName(name, i)
		one := programmeReader{fields{path: f.path, members: members{item: n}, err: f.err}, f.of}
		at := one.pick(item, kind, list)
		switch {
		case slices.Contains(found, at):
			one.refuse(item, "stands twice", "keep one of them")
		case at >= 0:
			found = append(found, at)
		}
	}
	slices.Sort(found)
	return found
}

// unique refuses a name that something before it has.
func (f programmeReader) unique(name string, list []string, text string) {
	if slices.Contains(list, text) {
		f.refuse(name, fmt.Sprintf("%q stands twice", text), "give each a name of its own")
	}
}

// tracks reads the names of the tracks.
func (f programmeReader) tracks() {
	for i, n := range f.items("tracks") {
		name := f.itemName("tracks", i)
		one := programmeReader{fields{members: members{name: n}, err: f.err}, f.of}
		text := one.called(name)
		one.unique(name, f.of.tracks, text)
		f.of.tracks = append(f.of.tracks, text)
	}
	if !f.has("tracks") {
		f.of.tracks = []string{"Track"}
	}
	f.of.problem.Tracks = len(f.of.tracks)
}

// costs reads how long the work takes.
func (f programmeReader) costs() {
	c := f.within(node{"costs", f.members["costs"].value})
	f.of.work = domain.Work{
		Hook: c.minutes("hook_minutes"), Slab: c.minutes("slab_minutes"), Gear: c.minutes("gear_minutes"), Hole: c.minutes("hole_minutes"),
		Unknown: c.minutes("unknown_minutes"), Track: c.minutes("track_minutes"), Rest: c.minutes("rest_minutes"),
	}
	p := &f.of.problem
	p.Rest, p.Overrun, p.Late = f.of.work.Rest, c.count("overrun_weight"), c.count("late_weight")
}

// sessions reads the sessions. Times count from the day before the first of them.
func (f programmeReader) sessions() {
	var last time.Time
	for _, n := range f.items("sessions") {
		s := f.within(n)
		name, starts := s.called("name"), s.moment("starts")
		s.unique("name", f.of.sessions, name)
		if starts.Before(last) {
			s.refuse("starts", "is before the session ahead of it begins", "write the sessions in the order in which they begin")
		}
		if last.IsZero() {
			f.of.zero = starts.Add(-lead)
		}
		last = starts
		session := sequence.Session{Starts: s.after("starts", starts), Curfew: s.after("curfew", s.moment("curfew"))}
		for _, n := range s.items("breaks") {
			b := s.within(n)
			session.Breaks = append(session.Breaks, sequence.Break{From: b.after("from", b.moment("from")), Length: b.minutes("minutes")})
		}
		f.of.sessions = append(f.of.sessions, name)
		f.of.problem.Sessions = append(f.of.problem.Sessions, session)
	}
}

// A programme counts from lead before its first session, and has no time later than horizon after that.
const (
	lead    = 24 * time.Hour
	horizon = 31 * 24 * time.Hour
)

// after is how long after the beginning of the count a moment is; 0 for none.
func (f programmeReader) after(name string, at time.Time) time.Duration {
	if at.IsZero() {
		return 0
	}
	d := at.Sub(f.of.zero)
	if d <= 0 || d > horizon {
		f.refuse(name, "is not near the first session", "write a time within a day before it and a month after it")
	}
	return d
}

// classes reads the classes.
func (f programmeReader) classes() {
	var names []string
	for i, n := range f.items("classes") {
		c := f.within(n)
		name := c.called("name")
		c.unique("name", names, name)
		names = append(names, name)
		class := sequence.Class{ID: name, Position: i, Length: c.length(), Place: c.count("place"), Fixed: c.after("starts", c.moment("starts"))}
		if c.has("track") || len(f.of.tracks) > 1 {
			class.Track = c.pick("track", "track", f.of.tracks)
		}
		if class.Sessions = c.picks("sessions", "session", f.of.sessions); len(class.Sessions) == 0 {
			for s := range f.of.sessions {
				class.Sessions = append(class.Sessions, s)
			}
		}
		f.of.problem.Classes = append(f.of.problem.Classes, class)
		f.of.classes = append(f.of.classes, domain.Class{Name: name, Sled: c.sled(), Rounds: c.setting()})
	}
	for i := range f.of.classes {
		row := make([]sequence.Change, len(f.of.classes))
		for j := range row {
			row[j], _ = f.of.work.Change(&f.of.classes[i], &f.of.classes[j])
		}
		f.of.problem.Changes = append(f.of.problem.Changes, row)
	}
}

// length reads how long a class takes, from its hooks or as it stands there.
func (f programmeReader) length() time.Duration {
	switch {
	case f.has("hooks") && f.has("minutes"):
		f.refuse("minutes", "cannot stand beside hooks", "keep one of them")
	case f.has("minutes"):
		return f.minutes("minutes")
	case !f.has("hooks"):
		f.refuse("hooks", "is missing", "write how many hooks the class has, or minutes")
	}
	return time.Duration(f.count("hooks")) * f.of.work.Hook
}

// sled reads which sled a class is pulled with: one of that name, or the one without.
func (f programmeReader) sled() domain.Sled {
	if !f.has("sled") {
		return domain.Sled{}
	}
	return domain.Sled{ID: uuid.NewSHA1(uuid.Nil, []byte(f.called("sled")))}
}

// setting reads the setting of a class as its first round has it; none where it is not written.
func (f programmeReader) setting() []domain.Round {
	if !f.has("setting") {
		return nil
	}
	s := f.within(f.members["setting"])
	if !s.has("slabs") {
		s.refuse("slabs", "is missing", "write how many lie left, middle and right")
	}
	slabs := s.within(node{s.at("slabs"), s.members["slabs"].value})
	return []domain.Round{{Revisions: []domain.Revision{{Number: 1, Setting: domain.Setting{
		Slabs: domain.Slabs{Left: slabs.count("left"), Middle: slabs.count("middle"), Right: slabs.count("right")},
		Gear:  s.count("gear"), StartHole: s.count("start_hole"),
	}}}}}
}

// shared reads who is in several classes.
func (f programmeReader) shared() {
	names := make([]string, len(f.of.classes))
	for i := range names {
		names[i] = f.of.classes[i].Name
	}
	for i, n := range f.items("shared") {
		s := f.within(n)
		s.called("who")
		for _, at := range s.picks("classes", "class", names) {
			class := &f.of.problem.Classes[at]
			class.Shares = append(class.Shares, fmt.Sprint(i))
		}
	}
}

// check holds what was read against what can be put in order, and names the field of what cannot.
func (p Programme) check() error {
	err := p.problem.Check()
	if t, ok := errors.AsType[*sequence.Trouble](err); ok && t.Session >= 0 {
		path := fmt.Sprintf("sessions[%d].%s", t.Session, t.Field)
		return treeError(path, path+": "+t.Message, t.Fix)
	}
	if err == nil && p.worst() > 1<<59 {
		return treeError("classes", "classes take longer together than can be reckoned with", "put one day in order at a time")
	}
	return err
}

// worst is more than any order can cost, in nanoseconds: all work one after the other, behind the last time that is
// named, and as late as that against every fixed start and curfew. Package sequence adds costs without looking for
// overflow.
func (p Programme) worst() float64 {
	var last, whole time.Duration
	starts, curfews := 0, 0
	for i, c := range p.problem.Classes {
		longest := time.Duration(0)
		for _, change := range p.problem.Changes[i] {
			longest = max(longest, change.Total())
		}
		whole += c.Length + p.problem.Rest + longest
		last = max(last, c.Fixed)
		if c.Fixed > 0 {
			starts++
		}
	}
	for _, s := range p.problem.Sessions {
		last = max(last, s.Starts)
		for _, b := range s.Breaks {
			last, whole = max(last, b.From), whole+b.Length
		}
		if s.Curfew > 0 {
			curfews++
		}
	}
	return float64(last+whole) * float64(len(p.classes)+starts*p.problem.Late+curfews*p.problem.Tracks*p.problem.Overrun)
}
