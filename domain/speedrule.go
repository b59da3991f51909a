package domain

// SpeedRule is the speed limit of a class. The reading is the device's and the officials'; the program shows the limit
// and what follows.
type SpeedRule struct {
	// Limit of the class; zero where there is none. 2.75 to 6 mph were read.
	Limit Speed
	// From is the place from which it holds: a third of the track (NATPA), half (SOAT 15), 75 ft (HARF); zero: from the
	// start.
	From TrackMark
	// Warnings is how often the limit may be passed before it costs the hook; 0: NATPA, one beep.
	Warnings int
	// Device reads the speed, in the words of the book: radar (NATPA Div III), horn (GREEN 7), pace tractor (HARF).
	Device string
	// NoOwnDevice: competitors may carry no speed measuring device of their own (CPTPA, 3.0 mph).
	NoOwnDevice bool
}

// check says whether the rule contradicts itself or the set that it stands in.
func (v SpeedRule) check(r RuleSet) error {
	if v.Limit.IsZero() && v != (SpeedRule{}) {
		return contradiction("speed.limit", "speed", "there is no limit, and the rest of the rule hangs on one", "give the limit, such as 3.5 mph, or leave speed out")
	}
	if v.Warnings < 0 || v.Warnings > 9 {
		return invalid("speed.warnings", "the number of warnings cannot be right", "write 0 to 9")
	}
	if err := v.From.check("speed.from", r.Line); err != nil {
		return err
	}
	_, err := text("speed.device", v.Device)
	return err
}

// String says the limit for a page: "3.5 mph from 1/3 of the track on"; "" for none.
func (v SpeedRule) String() string {
	switch {
	case v.Limit.IsZero():
		return ""
	case v.From.IsZero():
		return v.Limit.String()
	default:
		return v.Limit.String() + " from " + v.From.String() + " on"
	}
}
