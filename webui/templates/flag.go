package templates

// Names of the fields that the forms of the flagman send.
const (
	FieldAsk   = "ask"   // what is told: a decision of the flagmen, or that something is noted
	FieldPress = "press" // the value of the button that was pressed
)

// Flag is the page of the flagman: a phone, gloves, noise. What is decided after a run is told to booth and cab, and nothing
// on the page is a signal or stores a result. Ask stands alone: whoever decides sees nothing else.
type Flag struct {
	Frame
	Class string
	Hooks []FlagHook // the one at hand first, then the last that was stored
	Ask   *FlagAsk
	Quiet *Quiet // set where there is no hook
	Links []Link
}

// FlagHook is a hook of which something may be said.
type FlagHook struct {
	Puller
	Title string   // "Hook 3 · started 18:41"
	Over  bool     // its result is stored
	Told  []string // what was said of it so far
	Back  *Form    // takes the decision back; nil where none was told
	Says  []Link   // what may be said, each the way to its question
}

// FlagAsk is the question what exactly is to be told, with one large button for each answer.
type FlagAsk struct {
	Puller
	Title string // "Hook 3: Disqualified"
	Words string // label of the field for words; empty for none
	Form  *Form  // sends FieldPress, on its buttons, and FieldReason
	Press []Press
	Leave Link // back without a word
}

// Press is one large button: what it sends, what is read, and what the rules have for it.
type Press struct {
	Value, Text, Detail string
}
