package gallery

import "clayline/webui/templates"

// sledLogPages are the states of a sled's log.
func sledLogPages() []Page {
	return []Page{
		show("sled-log", "The log of a sled, with what was found of it", sledLog()),
		show("sled-log-pulling", "The log of a sled while a vehicle pulls it", sledLogPulling()),
		show("sled-list", "The lists of a sled on paper", sledList()),
		show("sled-log-refused", "An inspection that was refused", sledLogRefused()),
	}
}

// usualPoints are the points of an inspection.
func usualPoints() []string {
	return []string{"wheel brakes hold", "kill switch and its cable, pulled once", "box drive engages and lets go", "breakaway cable", "radio heard in the booth", "fire extinguisher full and in reach"}
}

// sledList is what its crew looks at, on paper.
func sledList() templates.SledList {
	return templates.SledList{
		Frame: staff("Cab · sled phone"), Name: "Plumb Bob", Event: "Tarn Hollow Harvest Pull", When: "19 – 20 September 2026", Where: "Tarn Hollow", Inspection: usualPoints(),
		Ready: []string{"box back", "pan up", "push-down reset", "box drive engaged", "cable attached and tested", "lanes clear"}, Columns: 8,
		Back: templates.Link{Text: "Log and inspection of the sled", Href: "#"},
	}
}

// sledLog is a sled that was at two events.
func sledLog() templates.SledLog {
	return templates.SledLog{
		Frame: staff("Cab · sled phone"), Name: "Plumb Bob", Scope: "Of all events of this server that have a sled of this name.", Print: templates.Link{Text: "Lists to print and fill in by hand", Href: "#"}, Back: templates.Link{Text: "The event", Href: "#"},
		Ask: &templates.Inspection{Points: usualPoints(), Form: form("/cab/sled/5/inspect")},
		Events: []templates.SledEvent{
			{
				ID: "at-harvest", Name: "Tarn Hollow Harvest Pull", When: "19 September 2026", Where: "Tarn Hollow", Total: "29 hooks, 3 full pulls, 1 hand drop, 2 faults, 1 reset",
				Classes: []templates.SledClass{
					{Name: "8,200 lb Field Stock", Href: "#", Hooks: 16, FullPulls: 2, HandDrops: 1, Faults: 2},
					{Name: "Street Diesel 4x4 Trucks", Href: "#", Hooks: 13, FullPulls: 1, Resets: 1},
				},
				Faults: []templates.SledLine{
					{Class: "8,200 lb Field Stock", At: "hook 3 of round 1, 23", Words: "hand drop: pan hung"},
					{Class: "8,200 lb Field Stock", At: "hook 8 of round 1, 30", Words: "red by itself; made again: sled, light went red by itself"},
				},
				Resets: []templates.SledLine{{Class: "Street Diesel 4x4 Trucks", At: "round 1, setting 2, 19:10", Words: "too light", Typed: true}},
				Inspections: []templates.Inspected{{Text: "Saturday 19 September 16:10, signed Ada Flagg", Says: "4 ok, 1 not ok, 1 not looked at", Points: []templates.InspectedPoint{
					{Point: "wheel brakes hold", State: "ok", Note: "new pads"}, {Point: "kill switch and its cable, pulled once", State: "ok"}, {Point: "box drive engages and lets go", State: "ok"},
					{Point: "breakaway cable", State: "not ok", Note: "frayed at the eye, replaced before the first hook", Wrong: true}, {Point: "radio heard in the booth", State: "not looked at"}, {Point: "fire extinguisher full and in reach", State: "ok"},
				}}},
			},
			{ID: "at-spring", Name: "Kettle Bridge Spring Pull", When: "9 May 2026", Where: "Kettle Bridge"},
		},
	}
}

// sledLogPulling is the log while nothing may be asked.
func sledLogPulling() templates.SledLog {
	l := sledLog()
	l.Ask, l.Events, l.Scope = nil, l.Events[1:], "Of this event. A pass for every event of this server shows the others too."
	return l
}

// sledLogRefused is an inspection without a word about what is wrong.
func sledLogRefused() templates.SledLog {
	l := sledLog()
	l.Ask.Form = filled("/cab/sled/5/inspect", map[string]string{"state-0": "ok", "state-3": "not ok", "by": "Ada Flagg"},
		map[string]string{"note-3": "What is wrong with \"breakaway cable\" is missing. Say it in a few words."})
	return l
}
