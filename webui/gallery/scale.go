package gallery

import "clayline/webui/templates"

// scalePages are the states of the scale.
func scalePages() []Page {
	wrong := scale()
	wrong.Weigh = filled("#", map[string]string{templates.FieldEntry: "7", templates.FieldWeight: "82l0"}, map[string]string{templates.FieldWeight: "\"82l0\" is not a weight: \"82l0\" is not a number such as 281.36. Write figures and a unit, such as 21600 lb."})
	asked := scale()
	asked.Weigh = filled("#", map[string]string{templates.FieldEntry: "7", templates.FieldWeight: "82"},
		map[string]string{templates.FieldWeight: "82 lb is less than half of the limit of 8,200 lb. Look again; sent once more it is stored all the same."})
	none := scale()
	none.Weigh, none.Entries, none.Readings, none.Heavy, none.Due, none.Rule = nil, nil, nil, nil, nil, ""
	none.Quiet = &templates.Quiet{Text: "Nothing is weighed in this class.", Next: "Its rule set has no weight limit."}
	return []Page{
		show("scale", "Scale, hooking", scale()),
		show("scale-error", "Scale, a weight was refused", wrong),
		show("scale-asked", "Scale, an unlikely weight is asked about", asked),
		show("scale-none", "Scale, nothing is weighed", none),
		show("class-weighed", "Class with a weight limit", classWeighed()),
	}
}

// scale is the scale while the class hooks.
func scale() templates.Scale {
	s := templates.Scale{
		Frame: staff("Scale · phone"), Class: "8,200 lb Field Stock", Rule: "8,200 lb, 10 lb over allowed, with the driver, before the hook", Unit: "lb", Weigh: form("#"),
		First: []templates.Option{{Value: "before", Text: "Store: before the hook"}, {Value: "after", Text: "Store: after the hook"}},
		Heavy: []templates.Message{{Text: "38 is 20 lb over the 8,210 lb that are allowed.", Do: "Under these rules it is disqualified. The officials decide."}},
		Due:   []templates.ScaleDue{{Puller: who("41"), Href: "#"}, {Puller: who("23"), Href: "#"}}, Practice: "The first puller, and whoever took the lead: so that whoever wins was weighed. Common practice; these rules do not ask for it.",
		Readings: []templates.ScaleReading{
			{Puller: who("38"), Weight: "8,230 lb", State: "after the hook, 18:46", ID: "1", Misread: form("#")},
			{Puller: who("41"), Weight: "8,180.5 lb", State: "before the hook, 17:20", ID: "2", Misread: form("#")},
			{Puller: who("7"), Weight: "8,910 lb", State: "not counted: that was 16", ID: "3"},
		},
	}
	for i, p := range pullers() {
		state := "not weighed"
		if i > 8 {
			state = "8,180.5 lb"
		}
		s.Entries = append(s.Entries, templates.ScaleEntry{Puller: p, State: state})
	}
	s.Entries[13].State = "8,260 lb, too heavy, 1 try left"
	return s
}

// classWeighed is the running class with its scale.
func classWeighed() templates.Class {
	c := classRunning()
	c.Scale = &templates.ScaleState{Lines: []templates.Term{
		{Label: "Limit", Value: "8,200 lb, 10 lb over allowed, with the driver, before the hook"}, {Label: "Weighed", Value: "41, 23, 12, 5, 38, 19, 30, 11", Typed: true}, {Label: "Not yet", Value: "7, 27, 33, 7b, 16, 2", Typed: true},
	}}
	return c
}
