package doc

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"clayline/domain"
)

// programmeField is what programs and the reader are told of one field of a programme: the reader, the schema and the
// list of names that a misspelled one is answered with are all made of it, so that they cannot disagree.
type programmeField struct {
	path      string // "sessions[].breaks[].minutes"
	kind      string // a word of JSON Schema, or time
	says      string // what it is for, one sentence
	needed    bool
	least     int // of a number; of a list its length
	most      int
	byDefault any // nil where nothing is meant, or nothing can be left out
}

// programmeFields lists the fields, a group before its members. Bounds are there so that nothing overflows and nothing
// takes hours; no programme of a day comes near them.
var programmeFields = []programmeField{
	{path: "tracks", kind: "array", least: 1, most: 4,
		says: "The names of the tracks. Left out: one track."},
	{path: "tracks[]", kind: "string", says: "The name of a track."},
	{path: "sessions", kind: "array", needed: true, least: 1, most: 20,
		says: "The sessions of the programme, each on all tracks, in the order in which they begin."},
	{path: "sessions[].name", kind: "string", needed: true, says: "What the session is called; classes name it."},
	{path: "sessions[].starts", kind: "time", needed: true, says: "When its first class begins."},
	{path: "sessions[].curfew", kind: "time", says: "When everything must be over. Left out: nothing says so."},
	{path: "sessions[].breaks", kind: "array", most: 20, says: "The breaks of the session, in their order."},
	{path: "sessions[].breaks[].from", kind: "time", needed: true,
		says: "When it begins: with the first change of class that ends then or later, or while a class is waited for."},
	{path: "sessions[].breaks[].minutes", kind: "number", needed: true, least: 1, most: 600, says: "How long it is."},
	{path: "classes", kind: "array", needed: true, least: 1, most: 60,
		says: "The classes, in the order that the proposal is compared with."},
	{path: "classes[].name", kind: "string", needed: true, says: "What the class is called, each by a name of its own."},
	{path: "classes[].track", kind: "string", says: "The track it is on. It may be left out where there is one track."},
	{path: "classes[].sessions", kind: "array", least: 1, most: 20, says: "The sessions that it may be in. Left out: any of them."},
	{path: "classes[].sessions[]", kind: "string", says: "The name of a session."},
	{path: "classes[].hooks", kind: "integer", least: 1, most: 1000, says: "How many hooks it has, pull-offs included. Either this or minutes stands there."},
	{path: "classes[].minutes", kind: "number", least: 1, most: 1440, says: "How long it takes. Either this or hooks stands there."},
	{path: "classes[].sled", kind: "string", says: "Which sled it is pulled with. Left out: the same for all that leave it out."},
	{path: "classes[].setting", kind: "object", says: "The setting it begins with. Left out: it is not written yet."},
	{path: "classes[].setting.slabs", kind: "object", needed: true, says: "How many slabs lie in the box, by where they lie."},
	{path: "classes[].setting.slabs.left", kind: "integer", most: 1000, byDefault: 0, says: "Slabs on the left."},
	{path: "classes[].setting.slabs.middle", kind: "integer", most: 1000, byDefault: 0, says: "Slabs in the middle."},
	{path: "classes[].setting.slabs.right", kind: "integer", most: 1000, byDefault: 0, says: "Slabs on the right."},
	{path: "classes[].setting.gear", kind: "integer", needed: true, least: 1, most: 100, says: "The gear of the box."},
	{path: "classes[].setting.start_hole", kind: "integer", most: 100, byDefault: 0, says: "The hole that the box starts from."},
	{path: "classes[].place", kind: "integer", least: 1, most: 60, says: "Its place on its track in its session, which it keeps. Left out: it is free."},
	{path: "classes[].starts", kind: "time", says: "It begins no sooner, and should not begin later. Left out: it is free."},
	{path: "shared", kind: "array", most: 1000, says: "Who or what is in two classes or more: those are never at once, and have time between them."},
	{path: "shared[].who", kind: "string", needed: true, says: "The person or the vehicle."},
	{path: "shared[].classes", kind: "array", needed: true, least: 2, most: 60, says: "The names of the classes."},
	{path: "shared[].classes[]", kind: "string", says: "The name of a class."},
	{path: "costs", kind: "object", says: "How long the work takes. What is left out is as usual."},
	{path: "costs.hook_minutes", kind: "number", least: 1, most: 60, byDefault: usual.Hook.Minutes(), says: "From green to green."},
	{path: "costs.slab_minutes", kind: "number", most: 60, byDefault: usual.Slab.Minutes(), says: "A slab into the box or out of it."},
	{path: "costs.gear_minutes", kind: "number", most: 600, byDefault: usual.Gear.Minutes(), says: "Another gear of the box."},
	{path: "costs.hole_minutes", kind: "number", most: 600, byDefault: usual.Hole.Minutes(), says: "Another start hole."},
	{path: "costs.unknown_minutes", kind: "number", most: 600, byDefault: usual.Unknown.Minutes(),
		says: "A change of the box where a setting is not written yet, or the sled is another."},
	{path: "costs.track_minutes", kind: "number", most: 600, byDefault: usual.Track.Minutes(), says: "Preparing the track between two classes."},
	{path: "costs.rest_minutes", kind: "number", most: 1440, byDefault: usual.Rest.Minutes(),
		says: "For whoever is in two classes, from the end of the one to the beginning of the other."},
	{path: "costs.overrun_weight", kind: "integer", most: 100, byDefault: domain.LateWeight, says: "What a minute past the curfew counts as."},
	{path: "costs.late_weight", kind: "integer", most: 100, byDefault: domain.LateWeight, says: "What a minute after a fixed start counts as."},
}

// usual is the work that is taken where a programme does not say.
var usual = domain.UsualWork()

// index matches the place in a list in the path of a value.
var index = regexp.MustCompile(`\[\d+\]`)

// programmeFieldAt finds the field at the path of a value: "classes[3].track".
func programmeFieldAt(path string) programmeField {
	path = index.ReplaceAllString(path, "[]")
	return programmeFields[slices.IndexFunc(programmeFields, func(f programmeField) bool { return f.path == path })]
}

// programmeNames lists the members of a group by the group's path.
func programmeNames(group string) []string {
	group = index.ReplaceAllString(group, "[]")
	var names []string
	for _, f := range programmeFields {
		at, inside := "", f.path
		if i := strings.LastIndex(f.path, "."); i >= 0 {
			at, inside = f.path[:i], f.path[i+1:]
		}
		if at == group && !strings.HasSuffix(inside, "]") {
			names = append(names, inside)
		}
	}
	return names
}

// ProgrammeSchema returns the JSON Schema (draft 2020-12) of a programme; domain/doc/schema/programme.json is a copy for
// editors, and a test holds that it is not stale. A schema cannot say that a name is that of a class, nor which times
// follow each other: that is left to [ReadProgramme].
func ProgrammeSchema() ([]byte, error) {
	s := programmeGroup("")
	s.Dialect = "https://json-schema.org/draft/2020-12/schema"
	s.Title = "A programme of truck and tractor pulls, to be put in order"
	s.Description = "The fields are explained in docs/programme.md. Times are RFC 3339, with the offset from UTC."
	document, err := indented(s)
	if err != nil {
		return nil, fmt.Errorf("writing the schema of programmes: %w", err)
	}
	return document, nil
}

// programmeGroup describes a group and everything in it.
func programmeGroup(group string) *schema {
	s := &schema{Type: "object", Closed: new(false), Properties: make(map[string]*schema)}
	for _, name := range programmeNames(group) {
		field := programmeFieldAt(strings.TrimPrefix(group+"."+name, "."))
		s.Properties[name] = field.schema()
		if field.needed {
			s.Required = append(s.Required, name)
		}
	}
	return s
}

// momentPattern is what RFC 3339 has a time look like. Whether there is such a day, a pattern cannot say.
const momentPattern = `^\d{4}-\d{2}-\d{2}[T]\d{2}:\d{2}:\d{2}([.]\d+)?(Z|[+-]\d{2}:\d{2})$`

// schema describes a field.
func (f programmeField) schema() *schema {
	s := &schema{Type: f.kind}
	switch f.kind {
	case "time":
		s = &schema{Type: "string", Pattern: momentPattern}
	case "string":
		s.Pattern = `\S`
	case "array":
		s.MinItems, s.MaxItems = f.least, f.most
		if len(programmeNames(f.path+"[]")) > 0 {
			s.Items = programmeGroup(f.path + "[]")
		} else {
			s.Items = programmeFieldAt(f.path + "[]").schema()
		}
	case "object":
		s = programmeGroup(f.path)
	default:
		s.Minimum, s.Maximum = &f.least, &f.most
	}
	s.Description, s.Default = f.says, f.byDefault
	return s
}

// span is what a number of the field may be.
func (f programmeField) span() span { return span{float64(f.least), float64(f.most)} }

// fallback is the number that is meant where the field is left out.
func (f programmeField) fallback() float64 {
	switch n := f.byDefault.(type) {
	case int:
		return float64(n)
	case float64:
		return n
	default:
		return 0
	}
}
