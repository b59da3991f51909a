package templates

// Names of the fields that the forms of these pages send. A form's doc comment
// lists which of them it sends.
const (
	FieldBetween  = "between"    // draw: hooks between two of one driver
	FieldBlade    = "blade"      // setting: blade depth
	FieldBox      = "box"        // setting: weight in the box
	FieldCause    = "cause"      // hooks again: CauseSled or CauseOfficial
	FieldClass    = "class"      // id of a class
	FieldDevice   = "device"     // name of the device that enters
	FieldFixed    = "fixed"      // draw: fixed places, "41 on 1, 7 on 3"
	FieldGear     = "gear"       // setting: gear of the box
	FieldHole     = "hole"       // setting: start hole
	FieldHome     = "home"       // entry: where the puller is from
	FieldHook     = "hook"       // id of an earlier hook
	FieldLimit    = "limit"      // setting: speed limit
	FieldMeasure  = "measure"    // setting: measuring device
	FieldMove     = "move"       // drop, hooks again: MoveNow, MovePlaces or MoveLast
	FieldNote     = "note"       // setting: note
	FieldNumber   = "number"     // entry: number on the vehicle
	FieldPan      = "pan"        // setting: pan weight
	FieldPhoto    = "photo"      // the file of a photo
	FieldPlaces   = "places"     // with MovePlaces: how many hooks later
	FieldPuller   = "puller"     // entry: name of the puller
	FieldPushDown = "push_down"  // setting: push-down
	FieldReading  = "reading"    // id of a hook, a space and its distance
	FieldReason   = "reason"     // why
	FieldResult   = "result"     // what was measured, or its word
	FieldPromise  = "commitment" // draw: a published hash
	FieldReveal   = "reveal"     // draw: the secret text of the commitment
	FieldRole     = "role"       // a role for an entry link
	FieldSeed     = "seed"       // draw: text that the draw is computed from
	FieldLeft     = "left"       // setting: slabs on the left
	FieldMiddle   = "middle"     // setting: slabs in the middle
	FieldRight    = "right"      // setting: slabs on the right
	FieldTrip     = "trip"       // setting: trip point
	FieldWith     = "with"       // swap: the other entry
	FieldVehicle  = "vehicle"    // entry: name of the vehicle
)

// Values of FieldCause and FieldMove.
const (
	CauseSled     = "sled"     // the sled failed
	CauseOfficial = "official" // an official's call or error
	MoveNow       = "now"      // at once
	MovePlaces    = "places"   // FieldPlaces hooks later
	MoveLast      = "last"     // to the end of the order
)

// Form is one form: where it goes, what it carries unseen, and, after it was
// refused, what had been typed and what was wrong with it. A nil *Form in a
// page means that the action is not to be had now, and the page leaves it out.
//
// To show a refused form again, fill Values with everything that came in and
// Errors with a sentence at each field; the typing stays.
type Form struct {
	Action string            // address it posts to
	Hidden []Hidden          // action id, token, hook id, confirmation
	Values map[string]string // by field name; also carries suggested values
	Errors map[string]string // by field name; the entry "" is about the form as a whole
}

// Hidden is a field that nobody sees.
type Hidden struct {
	Name  string
	Value string
}

// Value is what the field shows.
func (f Form) Value(field string) string { return f.Values[field] }

// Or is what the field shows, or the fallback if nothing was said about it.
func (f Form) Or(field, fallback string) string {
	if v, ok := f.Values[field]; ok {
		return v
	}
	return fallback
}

// Error is what is wrong with the field; Error("") is about the form.
func (f Form) Error(field string) string { return f.Errors[field] }

// Refused tells whether anything in the form was wrong.
func (f Form) Refused() bool { return len(f.Errors) > 0 }
