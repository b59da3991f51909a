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
		show("booth-measured-error", "Booth, another measurement was not understood", boothMeasuredError()),
		show("booth-photo-error", "Booth, what was chosen is no photo", boothPhotoError()),
		show("booth-not-started", "Booth, the class has not started", boothQuiet("Round 1 · the sled is being set.", "Desk: write the setting and freeze it.")),
		show("booth-round-done", "Booth, the round is done", boothQuiet("Round 1 · done, full pulls return for a pull-off.", "Desk: start the pull-off.")),
		show("booth-decided", "Booth, the class is decided", boothDecided()),
	}
}

// booth is the booth with a hook to store.
func booth() templates.Booth {
	return templates.Booth{
		Frame: staff("Booth · laptop by the tower"), Hooking: hookingNow(),
		Class: "8,200 lb Field Stock", ClassHref: "#", Sentence: "Round 1 · puller 9 of 14", Unit: "ft",
		Words: []templates.Term{
			{Label: "F", Value: "full pull"}, {Label: "Q reason", Value: "disqualified"}, {Label: "A", Value: "absent"},
		},
		Store: form("/booth/store"), Acts: acts(), Strip: strip(eightStops()...),
		Stored: []templates.Stored{
			{Hook: "8", Puller: who("30"), Outcome: at("188.02", "second attempt")},
			{Hook: "7", Puller: who("19"), Outcome: full()},
			{Hook: "6", Puller: who("38"), Outcome: at("296.41", "corrected: misread")},
			{Hook: "5", Puller: who("5"), Outcome: dq("out of bounds")},
			{Hook: "4", Puller: who("12"), Outcome: at("254.77")},
		},
		Photos: templates.Photos{Attach: form("#"), Hooks: readings(), Seen: photos()},
		Again:  &templates.Remeasure{Form: form("#"), Who: "30 Ida Brandt", Was: "188.02 ft"}, Number: "412",
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
		Hooks: []templates.Option{{Value: "8", Text: "30 Ida Brandt: 188.02 ft, hook 8, round 1"}, {Value: "7", Text: "19 Tom Okafor: full pull, hook 7, round 1"}},
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
		templates.FieldResult: "\"28t.34\" is not a result. Type the distance, such as 281.36, or F for a full pull, Q with the reason, A for absent.",
	})
	return b
}

// boothConfirm is the booth asking once more.
func boothConfirm() templates.Booth {
	b := booth()
	b.Store = filled("/booth/store", map[string]string{templates.FieldResult: "2873.4"}, nil)
	b.Confirm = "2873.4 ft lies far beyond the track. Enter again stores it all the same."
	return b
}

// boothChoice is the booth waiting for the test puller.
func boothChoice() templates.Booth {
	b := booth()
	b.Store, b.Sentence = nil, "Round 1 · puller 1 of 14, a choice is open"
	b.OnTrack, b.Next, b.AfterNext = who("41"), who("7"), who("23")
	b.ToBeat = templates.ToBeat{Label: "To beat: 41 Maud Farrow", Value: "281.36", Unit: "ft"}
	b.Choice = &templates.Choice{
		Who: who("41"), Text: "41 Maud Farrow decides about the test hook: 281.36 ft.",
		Until: "before unhooking", Silence: "Saying nothing keeps the result.",
		Options: []templates.ChoiceOption{
			{Text: "Keeps it", Detail: "281.36 ft stands, and the next puller is called. This is what saying nothing means.", Form: *form("#")},
			{Text: "Hooks again as number 3", Detail: "The hook does not count.", Form: *form("#")},
			{Text: "Drops to last and hooks again", Detail: "The hook does not count.", Form: *form("#")},
		},
	}
	b.Acts = templates.BoothActs{}
	b.Strip = strip(stop("41", "281.36", 281360))
	b.Stored, b.Again, b.Photos = nil, nil, templates.Photos{}
	return b
}

// boothActError is the booth after a correction that lacked its reason.
func boothActError() templates.Booth {
	b := booth()
	b.Acts.Correct = filled("/booth/correct", map[string]string{templates.FieldHook: "7", templates.FieldResult: "299.10"}, map[string]string{
		templates.FieldReason: "The reason is missing. Say it in a few words.",
	})
	return b
}

// boothMeasuredError is the booth after a slip in another measurement.
func boothMeasuredError() templates.Booth {
	b := booth()
	b.Again.Form = filled("/booth/correct", map[string]string{templates.FieldResult: "18b.30"}, map[string]string{
		templates.FieldResult: "\"18b.30\" is not a result. Type the distance, such as 281.36, or F for a full pull, Q with the reason, A for absent.",
	})
	return b
}

// boothQuiet is the booth with nothing to store.
func boothQuiet(text, next string) templates.Booth {
	b := booth()
	b.Store, b.Hooking, b.Sentence = nil, templates.Hooking{}, "Round 1"
	b.Acts = templates.BoothActs{Correct: form("#"), Hooks: b.Acts.Hooks}
	b.Again, b.Photos = nil, templates.Photos{}
	b.Quiet = &templates.Quiet{Text: text, Next: next, Link: templates.Link{Text: "The class as everybody sees it", Href: "#"}}
	return b
}

// boothDecided is the booth after the class.
func boothDecided() templates.Booth {
	b := boothQuiet("Decided, provisional until the officials make it official.", "Desk: make the result official.")
	b.Notice = "Stored as number 431: 312.44 ft for 19 (hook 2, the pull-off)"
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
