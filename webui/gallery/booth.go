package gallery

import "clayline/webui/templates"

// boothPages are the states of the booth.
func boothPages() []Page {
	return []Page{
		show("booth", "Booth, a hook to store", booth()),
		show("booth-held", "Booth, the sled crew holds", boothHeld()),
		show("booth-error", "Booth, the result was not understood", boothError()),
		show("booth-confirm", "Booth, an unlikely value", boothConfirm()),
		show("booth-choice", "Booth, a choice is open", boothChoice()),
		show("booth-act-error", "Booth, a correction without a reason", boothActError()),
		show("booth-not-started", "Booth, the class has not started", boothQuiet("This class has not started.", "The desk starts round 1. Then the first puller is here with the field.")),
		show("booth-round-done", "Booth, the round is done", boothQuiet("Round 1 is done. 23 and 19 return for the pull-off.", "The desk starts the pull-off when its setting is frozen.")),
		show("booth-decided", "Booth, the class is decided", boothDecided()),
	}
}

// booth is the booth with a hook to store.
func booth() templates.Booth {
	return templates.Booth{
		Frame: staff("Booth · laptop by the tower"), Hooking: hookingNow(),
		Class: "8,200 lb Field Stock", ClassHref: "#", Sentence: "Hook 9 of 14 · Round 1", Unit: "ft",
		Words: []templates.Term{
			{Label: "F", Value: "full pull"}, {Label: "DQ and a reason", Value: "disqualified"}, {Label: "A", Value: "absent"},
		},
		Store: form("/booth/store"), Acts: acts(), Strip: strip(eightStops()...),
		Stored: []templates.Stored{
			{Hook: "8", Puller: who("30"), Outcome: at("188.02", "second attempt")},
			{Hook: "7", Puller: who("19"), Outcome: full()},
			{Hook: "6", Puller: who("38"), Outcome: at("296.41", "corrected: misread")},
			{Hook: "5", Puller: who("5"), Outcome: dq("out of bounds")},
			{Hook: "4", Puller: who("12"), Outcome: at("254.77")},
		},
		Number: "412",
	}
}

// acts are all the rarer acts.
func acts() templates.BoothActs {
	return templates.BoothActs{
		FullPull: form("#"), Disqualified: form("#"), SecondAttempt: form("#"),
		Again: filled("/booth/again", map[string]string{templates.FieldPlaces: "4"}, nil),
		Drop:  filled("/booth/drop", map[string]string{templates.FieldPlaces: "3"}, nil), Absent: form("#"), Correct: form("#"),
		Causes: causes(), Advice: []string{
			"Out of bounds: under these rules the distance where it happened counts.", "Anything else: under these rules it is a disqualification, without a distance.",
		}, Cooling: "Under these rules up to 4 places to cool down.",
		Hooks: []templates.Option{{Value: "8", Text: "8 · 30 Ida Brandt, 188.02"}, {Value: "7", Text: "7 · 19 Tom Okafor, full pull"}},
	}
}

// boothHeld is the booth while the crew of the sled holds.
func boothHeld() templates.Booth {
	b := booth()
	b.Acts.Speeds = speeds()
	b.Rehook = filled("/booth/again", map[string]string{templates.FieldCause: templates.CauseSled, templates.FieldReason: "red by itself"}, nil)
	b.Seen = []templates.Seen{{Puller: who("33"), Words: "here since 18:41"}, {Puller: who("41"), Words: "missing since 18:44"}}
	b.Flags = []templates.Message{{Text: "Flag 18:42, 11 Greta Moss: disqualification proposed: out of bounds.", Do: "Under these rules it is a disqualification, without a distance. The officials decide, and the booth stores it."}, {Text: "Noted of 11 Greta Moss: red by official."}}
	b.Crew = &templates.Crew{Held: true, Text: "18:41: the sled crew holds: cable frayed."}
	return b
}

// boothError is the booth after a slip of the finger.
func boothError() templates.Booth {
	b := booth()
	b.Store = filled("/booth/store", map[string]string{templates.FieldResult: "28t.34"}, map[string]string{
		templates.FieldResult: "“28t.34” is no distance. Nothing was stored. Put it right and press Enter.",
	})
	return b
}

// boothConfirm is the booth asking once more.
func boothConfirm() templates.Booth {
	b := booth()
	b.Store = filled("/booth/store", map[string]string{templates.FieldResult: "2873.4"}, nil)
	b.Confirm = "2873.4 ft is beyond the track. Nothing is stored yet. Enter again stores it."
	return b
}

// boothChoice is the booth waiting for the test puller.
func boothChoice() templates.Booth {
	b := booth()
	b.Store, b.Sentence = nil, "Hook 1 of 14 · Round 1"
	b.OnTrack, b.Next, b.AfterNext = who("41"), who("7"), who("23")
	b.ToBeat = templates.ToBeat{Label: "Test hook, not yet kept", Value: "281.36", Unit: "ft"}
	b.Choice = &templates.Choice{
		Who: who("41"), Text: "Maud Farrow decides about her test hook of 281.36 ft.",
		Until: "before unhooking", Silence: "Saying nothing keeps the distance.",
		Options: []templates.ChoiceOption{
			{Text: "Keeps 281.36", Detail: "The round goes on with hook 2, 7 Ellis Tarrant.", Form: *form("#")},
			{Text: "Drops to third", Detail: "281.36 is void. Hooks again after 23 Jonas Weir.", Form: *form("#")},
			{Text: "Drops to last", Detail: "281.36 is void. Hooks again after 2 Otto Lunde.", Form: *form("#")},
		},
	}
	b.Acts = templates.BoothActs{}
	b.Strip = strip(stop("41", "281.36", 281360))
	b.Stored = nil
	return b
}

// boothActError is the booth after a correction that lacked its reason.
func boothActError() templates.Booth {
	b := booth()
	b.Acts.Correct = filled("/booth/correct", map[string]string{templates.FieldHook: "7", templates.FieldResult: "299.10"}, map[string]string{
		templates.FieldReason: "A correction needs a reason. What was typed is still here.",
	})
	return b
}

// boothQuiet is the booth with nothing to store.
func boothQuiet(text, next string) templates.Booth {
	b := booth()
	b.Store, b.Hooking, b.Sentence = nil, templates.Hooking{}, "Round 1"
	b.Acts = templates.BoothActs{Correct: form("#"), Hooks: b.Acts.Hooks}
	b.Quiet = &templates.Quiet{Text: text, Next: next, Link: templates.Link{Text: "All classes of today", Href: "#"}}
	return b
}

// boothDecided is the booth after the class.
func boothDecided() templates.Booth {
	b := boothQuiet("Decided: 19 Tom Okafor wins with 312.44 ft.", "Next on this track: Street Diesel 4x4 Trucks, planned 19:40. The desk starts it.")
	b.Notice = "Stored: 19 Tom Okafor 312.44 ft · number 431"
	b.Strip = classDecided().Strip
	return b
}

// causes are some of what may go wrong, each with what the rules have for it.
func causes() []templates.Option {
	return []templates.Option{
		{Text: "something else, in words: DQ"},
		{Value: "out of bounds", Text: "out of bounds: distance there counts"},
		{Value: "lost part", Text: "lost part: DQ"},
		{Value: "red flag", Text: "red flag: DQ, last place"},
	}
}
