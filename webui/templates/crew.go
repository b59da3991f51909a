package templates

// FieldWords is what the sled's crew says in words.
const FieldWords = "words"

// Ready is the ready list of the cab before a hook. It is read and not ticked: one press confirms or holds the whole, and
// none is needed.
type Ready struct {
	Who     string   // "41 Maud Farrow"
	Points  []string // "cable attached and tested"
	Said    string   // "18:40: the sled crew holds: cable frayed."; empty before anything was said
	Held    bool
	Confirm *Form // sends nothing of its own
	Hold    *Form // sends FieldWords, which may be empty
}

// Crew is what the booth is told of the sled's crew: ready, or hold with its words.
type Crew struct {
	Held bool
	Text string
}

// Differed asks what differed on a hook from every other.
type Differed struct {
	Hooks []Option // the hooks of the round that ended, newest first
	Words []string // "hand drop"; each is a field of its own, ticked or not
	Noted []string // what is noted of the round, newest first
	Form  *Form    // sends FieldHook, FieldWords and the words
}
