package gallery

import (
	"strconv"

	"clayline/webui/templates"
)

// deskPages are the states of the event's desk.
func deskPages() []Page {
	wrong := desk()
	wrong.Add = filled("#", map[string]string{
		templates.FieldClass: "street", templates.FieldNumber: "41", templates.FieldPuller: "Moe Farrow", templates.FieldVehicle: "Blue Ox",
	}, map[string]string{templates.FieldNumber: "Number 41 is already entered in this class. Add a letter, such as 41b."})
	return []Page{
		show("desk", "Desk", desk()),
		show("desk-error", "Desk, an entry was refused", wrong),
		show("passes", "Passes, a new entry link", passes()),
		show("plan", "Desk of a server", plan()),
		show("plan-class", "Planning a class", planClass()),
		show("programme", "Sessions, tracks and sleds", changing()),
		show("order", "Order of the classes, with a proposal", ordering()),
		show("order-wrong", "Order of the classes, something not understood", misread()),
	}
}

// desk is the desk on the evening.
func desk() templates.Desk {
	return templates.Desk{
		Frame: staff("Desk · office laptop"), Name: "Tarn Hollow Harvest Pull",
		Classes: []templates.DeskLine{
			{Time: "18:20", Name: "8,200 lb Field Stock", Href: "#", State: "hooking: puller 9 of 14", Awaited: "Booth: the result of 11"},
			{Time: "19:40", Name: "Street Diesel 4x4 Trucks", Href: "#", State: "drawn", Awaited: "Desk: write the setting and freeze it"},
			{Time: "21:00", Name: "Hot Farm 9,500 lb", Href: "#", State: "entries open, 8 so far", Awaited: "Desk: enter the pullers, then draw"},
		},
		Add: form("#"), AddClasses: []templates.Option{{Value: "street", Text: "Street Diesel 4x4 Trucks", Typed: true}, {Value: "hot", Text: "Hot Farm 9,500 lb", Typed: true}},
		Issue: form("#"), Roles: []templates.Option{{Value: "booth", Text: "Booth: Stores results, choices and corrections."}, {Value: "cab", Text: "Cab: Reads the setting."}, {Value: "scale", Text: "Scale: Writes down what the scale shows."}, {Value: "lane", Text: "Lane: Says who is in the line-up, and what the flags showed."}, {Value: "desk", Text: "Desk: Plans, enters, draws, sets the sled and opens rounds; may do what the booth does."}},
		Passes:  templates.Link{Text: "Who is in, and taking a pass away", Href: "#"},
		Links:   []templates.Link{{Text: "The event as everybody sees it", Href: "#"}},
		Journal: tail(),
	}
}

// passes is the list of passes in the evening, with a link that was just made.
func passes() templates.Passes {
	return templates.Passes{
		Frame: staff("Desk · office laptop"), For: "Tarn Hollow Harvest Pull",
		Issued: &templates.Issued{Role: "booth", Address: "https://pull.example/enter/k7Qm-2fRt-9XcV-bL4w-Zp6h", Until: "21 September 17:30"},
		In: []templates.PassLine{
			{Who: "Booth", Device: "laptop by the tower", Says: "In since 19 September 17:02, last stored something 19 September 18:55. Lasts until 23 September 17:02.", Revoke: form("#"), Replace: form("#")},
			{Who: "Desk", Device: "office laptop", Here: true, Says: "In since 19 September 13:10, last stored something 19 September 18:21. Lasts until 23 September 13:10."},
			{Who: "Booth", Device: "timing van", Program: true, Says: "In since 19 September 13:40. Lasts until 23 September 13:40.", Revoke: form("#"), Replace: form("#")},
		},
		Open:  []templates.PassLine{{Who: "Cab", Says: "Made 19 September 17:20, can be used until 21 September 17:20.", Revoke: form("#"), Replace: form("#")}},
		Over:  []templates.PassLine{{Who: "Booth", Device: "borrowed phone", Says: "Taken away 19 September 18:12.", Replace: form("#")}},
		Issue: form("#"), Roles: []templates.Option{{Value: "booth", Text: "Booth: Stores results, choices and corrections."}},
		Back: templates.Link{Text: "Back to the desk", Href: "#"},
	}
}

// tail is the end of the journal.
func tail() []templates.JournalLine {
	return []templates.JournalLine{
		{Number: "412", Time: "18:55:40", Who: "booth", Device: "laptop by the tower", Class: "8,200 lb Field Stock", What: "188.02 ft for 30 (hook 8, round 1)"},
		{Number: "411", Time: "18:52:03", Who: "booth", What: "second attempt for 30 (hook 8, round 1), after 41 ft"},
		{Number: "410", Time: "18:49:31", Who: "booth", What: "full pull for 19 (hook 7, round 1)"},
		{Number: "409", Time: "18:46:58", Who: "booth", What: "corrected 38 (hook 6, round 1) to 296.41 ft: misread"},
		{Number: "408", Time: "18:45:12", Who: "booth", What: "269.41 ft for 38 (hook 6, round 1)"},
	}
}

// deskClassPages are the states of a class's desk.
func deskClassPages() []Page {
	return []Page{
		show("desk-class-entries", "Desk of a class, entries open", deskClassEntries()),
		show("desk-class-past", "Desk of a class, its session is past", deskClassPast()),
		show("desk-class-drawn", "Desk of a class, drawn, setting written", deskClassDrawn()),
		show("desk-class-filled", "Class desk, a setting filled into the form", deskClassFilled()),
		show("desk-class-running", "Desk of a class, hooking", deskClassRunning()),
		show("desk-class-pull-off", "Desk of a class, pull-off due", deskClassPullOff()),
		show("desk-class-missed", "Desk of a class, a full pull by a correction while a further pull-off is pulled", deskClassMissed()),
		show("desk-class-attendance", "Desk of a class, a fee was refused", deskClassAttendance()),
		show("desk-class-points", "Desk of a class, decided, with points", deskClassPoints()),
		show("purse", "Fees and purse to print", purse()),
		show("desk-class-errors", "Desk of a class, a setting was refused", deskClassErrors()),
	}
}

// deskClass is what is the same in every state.
func deskClass(sentence, awaited string) templates.DeskClass {
	d := templates.DeskClass{
		Frame: staff("Desk · office laptop"), Name: "8,200 lb Field Stock", Sentence: sentence, Awaited: awaited,
		PublicHref: "#", Links: []templates.Link{{Text: "Class sheet to print", Href: "#"}, {Text: "Result to print", Href: "#"}},
		Add: form("#"), Journal: tail(),
		Setting: templates.DeskSetting{Round: "Round 1", State: "not written yet", Weight: "lb", Length: "ft", Depth: "in", Speed: "mph", Gears: 4, Holes: 3, Kinds: slabKinds(false), Known: true},
	}
	for _, p := range pullers() {
		d.Entries = append(d.Entries, templates.DeskEntry{Puller: p, Scratch: form("#")})
	}
	d.Entries[4].Scratched, d.Entries[4].Scratch = "did not pass tech", nil
	d.Attendance = attendance(map[string]string{"came-0": "yes", "paid-0": "yes", "fee-0": "20.00", "came-1": "yes", "guest-1": "yes"}, nil)
	return d
}

// attendance is the list of who came with some of it ticked.
func attendance(values, errors map[string]string) templates.Attendance {
	list := templates.Attendance{Form: filled("#", values, errors), Count: "2 of 14 entries came", Says: "The points and the purse of this class go by it. Who hooked came, and needs no tick."}
	for i, p := range pullers() {
		list.Rows = append(list.Rows, templates.AttendanceRow{Puller: p, Key: strconv.Itoa(i), Hooked: i == 2})
	}
	return list
}

// deskClassAttendance is the desk after a fee that is none.
func deskClassAttendance() templates.DeskClass {
	d := deskClassEntries()
	d.Attendance = attendance(map[string]string{"came-0": "yes", "fee-0": "twenty"}, map[string]string{"fee-0": "\"twenty\" is not an amount of money. Write figures such as 150 or 150.50."})
	return d
}

// deskClassPoints is the desk with the points of the class.
func deskClassPoints() templates.DeskClass {
	d := deskClassDecided()
	d.Points, d.Trend = points(), trend()
	d.Photos.Seen = photos()
	d.Journal[0] = templates.JournalLine{Number: "413", Time: "18:57:02", Who: "booth", What: "photo of the reading attached to 30 (hook 8, round 1)", Photo: shown}
	return d
}

// points are the points of the class: a tie, a guest and a disqualification.
func points() *templates.Points {
	return &templates.Points{State: "provisional", To: "Points stay with the vehicle, whoever drives it.", Rows: []templates.PointsRow{
		{Puller: who("19"), Place: "1", Total: "15", Parts: "10 for the place, 5 for hooking"},
		{Puller: who("23"), Place: "2=", Total: "13 1/3", Parts: "8 1/3 for the place, 5 for hooking"},
		{Puller: who("38"), Place: "2=", Total: "0", Why: "guest"},
		{Puller: who("12"), Total: "5", Why: "disqualified", Parts: "5 for hooking"},
	}}
}

// purse is the sheet to pay by.
func purse() templates.Purse {
	return templates.Purse{
		Frame: staff("Desk · office laptop"), Name: "8,200 lb Field Stock", Day: "Saturday 19 September", Where: "Evening session · Track 1", State: "official since 20:14, signed A. Flagg",
		Terms: []templates.Term{{Label: "To pay in all", Value: "500.00"}, {Label: "Paid out", Value: "260.00"}, {Label: "Stays with the organiser", Value: "240.00"}, {Label: "Fees paid", Value: "40.00"}},
		Rows: []templates.PurseRow{
			{Puller: who("19"), Place: "1", Amount: "150.00", Fee: "fee 20.00, paid"}, {Puller: who("23"), Place: "2", Amount: "110.00", Fee: "fee 20.00, not paid"},
			{Puller: who("12"), Remark: "not seen"},
		},
		Print: "As of 20:15, journal number 486", Back: templates.Link{Text: "Back to the desk of the class", Href: "#"},
	}
}

// deskClassEntries is the desk before the draw.
func deskClassEntries() templates.DeskClass {
	d := deskClass("13 entered, not drawn yet · 300 ft, full pulls return for a pull-off", "Desk: enter the pullers, then draw")
	d.Draw, d.Commit = filled("#", map[string]string{templates.FieldBetween: "3"}, nil), form("#")
	d.Promised = "The commitment of 13:05 stands: 877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd"
	d.Setting.Write = form("#")
	d.Place = filled("#", map[string]string{templates.FieldSession: "2"}, nil)
	d.Sessions = []templates.Option{{Value: "1", Text: "Saturday afternoon", Typed: true}, {Value: "2", Text: "Saturday evening", Typed: true}}
	d.Tracks = []templates.Option{{Value: "1", Text: "Track 1", Typed: true}}
	return d
}

// deskClassDrawn is the desk between the draw and the first hook.
func deskClassDrawn() templates.DeskClass {
	d := deskClass("Round 1 · the sled is being set · 300 ft, full pulls return for a pull-off", "Desk: write the setting and freeze it")
	d.Drawn, d.Order, d.Redraw = draw(), pullers(), form("#")
	d.Swap, d.Commit = form("#"), form("#")
	for _, p := range pullers() {
		d.InLine = append(d.InLine, templates.Option{Value: p.Number, Text: p.Number + " " + p.Name, Typed: true})
	}
	d.Setting.Name, d.Setting.State, d.Setting.Lines = "Setting 1", "not frozen yet", setting().Lines
	d.Setting.Freeze = form("#")
	d.Setting.Write, d.Setting.Box, d.Setting.Look = filled("#", settingTyped(), nil), box(), "#"
	d.Setting.Earlier = templates.Link{Text: "Copy from an earlier class", Href: "#"}
	d.Start, d.Round = form("#"), "Round 1"
	return d
}

// settingTyped is the setting as it stands in the form.
func settingTyped() map[string]string {
	return map[string]string{
		templates.FieldBox: "21600", templates.FieldLeft: "6", templates.FieldRight: "6", templates.FieldGear: "3",
		templates.FieldHole: "2", templates.FieldTrip: "198", templates.FieldPan: "9400", templates.FieldMeasure: "laser",
	}
}

// deskClassFilled is the desk with a setting filled into the form, of a sled with slabs of two weights.
func deskClassFilled() templates.DeskClass {
	d := deskClassDrawn()
	d.Setting.Kinds, d.Setting.Box, d.Setting.Filled = slabKinds(true), boxMixed(), "Filled in and not stored."
	d.Setting.Write.Values["left2"], d.Setting.Write.Values["middle2"], d.Setting.Write.Values["right2"] = "0", "1", "1"
	d.Setting.Write.Values[templates.FieldRight], d.Setting.Write.Values[templates.FieldBox] = "4", ""
	return d
}

// deskClassRunning is the desk while the class hooks.
func deskClassRunning() templates.DeskClass {
	d := deskClass("Round 1 · puller 9 of 14 · 300 ft, full pulls return for a pull-off", "Booth: the result of 11")
	d.Add = nil
	d.Drawn, d.Order = draw(), pullers()
	d.Setting.Name, d.Setting.State, d.Setting.Lines = "Setting 1", "frozen 18:21", setting().Lines
	d.Setting.Box = box()
	d.Setting.Reset, d.Setting.Effect = form("#"), "Under these rules every hook made in this round becomes void and the line-up starts again."
	return d
}

// deskClassPast is the desk of a class in a session of yesterday.
func deskClassPast() templates.DeskClass {
	d := deskClassEntries()
	d.Messages = []templates.Message{{Text: "Its session, Evening session, was to start 19 September 2026 18:00, and its time is past.",
		Do: "If the programme is right, nothing is to be done; else change the session, or put the class into another one."}}
	return d
}

// deskClassPullOff is the desk with a pull-off due.
func deskClassPullOff() templates.DeskClass {
	d := deskClassRunning()
	d.Sentence, d.Awaited = "Round 1 · done, full pulls return for a pull-off · 300 ft, full pulls return for a pull-off", "Desk: start the pull-off"
	d.Setting = templates.DeskSetting{Round: "Pull-off", State: "not written yet", Weight: "lb", Length: "ft", Depth: "in", Speed: "mph", Gears: 4, Holes: 3, Kinds: slabKinds(false), Known: true, Box: box(), Write: filled("#", settingTyped(), nil)}
	d.PullOff = &templates.DeskPullOff{
		Name: "Pull-off", Order: "in the order of the draw", Pullers: []templates.Puller{who("23"), who("19")},
		Missing: "It can start when its setting is frozen.",
	}
	return d
}

// deskClassMissed is the desk while a second pull-off runs and 38 has become a full puller.
func deskClassMissed() templates.DeskClass {
	d := deskClassRunning()
	d.Sentence = "Pull-off 2 · puller 1 of 2 · 300 ft, full pulls return for a pull-off"
	d.Missed = []templates.DeskMissed{{Puller: who("38"), Round: "pull-off 2", Form: form("#")}}
	return d
}

// deskClassErrors is the desk after a setting that cannot be.
func deskClassErrors() templates.DeskClass {
	d := deskClassEntries()
	typed := settingTyped()
	typed[templates.FieldGear], typed[templates.FieldBox] = "5", "heavy"
	d.Setting.Write = filled("#", typed, map[string]string{
		"":                  "No setting is frozen for this round. Write the setting and freeze it first.",
		templates.FieldGear: "The sled has box gears 1 to 4. Choose one of them.",
		templates.FieldBox:  `"heavy" is not a weight: "heavy" is not a number such as 281.36. Write figures and a unit, such as 21600 lb.`,
	})
	d.Draw = filled("#", map[string]string{templates.FieldSeed: "ox"}, map[string]string{templates.FieldSeed: "The seed is missing. Type it."})
	return d
}

// plan is the desk of a server, with an event that was refused.
func plan() templates.Plan {
	return templates.Plan{
		Frame:  staff("Desk · office laptop"),
		Passes: templates.Link{Text: "Passes for every event: who is in, and taking one away", Href: "#"},
		Events: []templates.Link{{Name: "Tarn Hollow Harvest Pull", Text: "19 – 20 September 2026", Href: "#"}},
		Form: *filled("/desk", map[string]string{
			templates.FieldName: "Kettle Bridge Summer Night", templates.FieldPlace: "Kettle Bridge", templates.FieldZone: "America/Kettle",
			templates.FieldTracks: "Track 1\nTrack 2", templates.FieldSessions: "2026-07-18 18:00 Evening session",
		}, map[string]string{templates.FieldZone: `"America/Kettle" is not a time zone. Write one such as Europe/Amsterdam or America/Chicago.`}),
	}
}

// planClass is the form of another class.
func planClass() templates.PlanClass {
	return templates.PlanClass{
		Frame: staff("Desk · office laptop"), Form: *form("/desk/class"),
		Rules:    []templates.Option{{Value: "capped", Text: "300 ft, full pulls return for a pull-off"}, {Value: "floating-ft", Text: "Floating finish in feet, the longest distance wins"}},
		Kinds:    []templates.Option{{Text: "no kind of its own"}, {Value: "tractor", Text: "tractor"}, {Value: "truck", Text: "truck"}},
		Sessions: []templates.Option{{Value: "1", Text: "Saturday evening", Typed: true}},
		Tracks:   []templates.Option{{Value: "1", Text: "Track 1", Typed: true}},
		Sleds:    []templates.Option{{Value: "1", Text: "The fair's sled, 4 gears, 3 start holes"}},
	}
}

// changing is what an event has to change, with a description that was refused.
func changing() templates.Programme {
	return templates.Programme{
		Frame: staff("Desk · office laptop"),
		Sessions: []templates.ProgrammePart{
			{ID: "1", Name: "Saturday evening", Detail: "2026-09-19 18:00, 3 classes, curfew 23:00", Breaks: []string{"Break at about 19:30, 20 min"}, Change: filled("#", map[string]string{templates.FieldName: "Saturday evening", templates.FieldStarts: "2026-09-19 18:00", templates.FieldBreaks: "19:30 20"}, nil)},
			{ID: "2", Name: "Sunday", Detail: "2026-09-20 11:00, no class", Change: filled("#", map[string]string{templates.FieldName: "Sunday", templates.FieldStarts: "2026-09-20 11:00"}, nil), Remove: form("#")},
		},
		AddSession: form("#"),
		Tracks:     []templates.ProgrammePart{{ID: "1", Name: "Track 1", Detail: "6 classes", Change: filled("#", map[string]string{templates.FieldName: "Track 1"}, nil)}},
		AddTrack:   form("#"),
		Sleds: []templates.ProgrammePart{{
			ID: "1", Name: "Plumb Bob", Detail: "4 gears, 3 start holes, version 1 of its description; for the estimate it lacks frame_center",
			Change: filled("#", map[string]string{templates.FieldDescription: "{\n  \"name\": \"Plumb Bob\",\n  \"gears\": 4,\n  \"start_holes\": 3,\n  \"wheelbase\": \"long\"\n}"},
				map[string]string{templates.FieldDescription: `Line 5: wheelbase cannot be "long". Write figures and a unit, such as "22 ft" or "6.7 m".`}),
		}},
		AddSled: form("#"),
	}
}
