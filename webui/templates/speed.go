package templates

// What the form about a speed sends beside FieldHook; each may be empty.
const (
	FieldTop    = "top"
	FieldAtLine = "at_line"
)

// Speeds asks what the device read of a hook that ended.
type Speeds struct {
	Hooks []Option // the hooks of the round that ended, newest first, each with what was read
	Unit  string   // of a figure without one: "mph"
	Limit string   // "Limit 4 mph from 1/3 of the track on"; empty where there is none
	Form  *Form    // sends FieldHook, FieldTop, FieldAtLine
}
