package gallery

import "clayline/webui/templates"

// officialPages are the states of a result between the last hook and the signature, and after it.
func officialPages() []Page {
	return []Page{
		show("class-protest", "Class, decided, a protest is undecided", classProtest()),
		show("class-official", "Class, official in its second revision", classOfficial()),
		show("desk-class-protest", "Desk of a class, decided, with protests", deskClassProtest()),
		show("desk-class-official", "Desk of a class, official", deskClassOfficial()),
		show("desk-class-lodge", "Desk of a class, a protest was refused", deskClassLodge()),
	}
}

// sideLine is a protest that is undecided.
func sideLine() templates.Protest {
	return templates.Protest{Puller: who("19"), About: "front wheel over the side line", Hook: "hook 7, round 1", State: "undecided", Lodged: "lodged 19:49"}
}

// weights is a protest that was upheld.
func weights(made string) templates.Protest {
	return templates.Protest{Puller: who("38"), About: "weights not secured", State: "upheld", Lodged: "lodged 19:55, after the window", Why: "seen on the video of the booth", Follows: "disqualification " + made}
}

// classProtest is the decided class while its window is open.
func classProtest() templates.Class {
	c := classDecided()
	c.Messages = []templates.Message{{Text: "A protest against 19 is undecided: front wheel over the side line.", Do: "The result is not signed before it is decided."}}
	c.Standing.State = "provisional; protests until 19:54"
	c.Protests = []templates.Protest{sideLine()}
	return c
}

// classOfficial is the class after it was opened again and signed anew.
func classOfficial() templates.Class {
	c := classDecided()
	c.Sentence = "Official result · 300 ft, full pulls return for a pull-off"
	c.Standing.State = "revision 2, official since 20:31, signed Ada Flagg"
	decided := sideLine()
	decided.State, decided.Why = "turned down", "the flagman stood beside it"
	c.Protests = []templates.Protest{decided, weights("made")}
	c.Revisions = []templates.Revision{{
		Text: "Revision 1 was signed 20:14 by Ada Flagg and opened again 20:20: weights of 38 were not secured.",
		Changes: []templates.PlaceChange{
			{Puller: who("27"), Was: "4 · 291.08", Is: "3 · 291.08"}, {Puller: who("11"), Was: "5 · 287.34", Is: "4 · 287.34"},
			{Puller: who("38"), Was: "3 · 296.41", Is: "no place · DQ"},
		},
	}}
	return c
}

// deskClassDecided is the desk with the class decided.
func deskClassDecided() templates.DeskClass {
	d := deskClassRunning()
	d.Sentence, d.Awaited = "Decided, provisional until the officials make it official", "Officials: decide the protest against 19"
	d.Official = templates.DeskOfficial{
		State: "provisional; protests until 19:54", Window: "Protests are taken until 19:54; the result can be signed from then on.",
		Sign: form("#"), Lodge: form("#"), Against: []templates.Option{{Value: "1", Text: "19 Tom Okafor", Typed: true}, {Value: "2", Text: "19 Tom Okafor: full pull, hook 7, round 1"}},
		Terms: []templates.Term{{Label: "Fee", Value: "$50 an issue", Typed: true}, {Label: "Until", Value: "before trophies are handed over"}, {Label: "Decided by", Value: "a track official", Typed: true}},
	}
	return d
}

// deskClassProtest is the desk with one protest to decide and one to follow.
func deskClassProtest() templates.DeskClass {
	d := deskClassDecided()
	d.Official.Protests = []templates.DeskProtest{
		{Protest: sideLine(), ID: "1", By: "Jonas Weir", Rule: form("#")}, {Protest: weights("to be made"), ID: "2", By: "Sam Whitlock"},
	}
	d.Official.Corrections = []templates.DeskCorrection{{
		Text: "The protest against 38 was upheld: seen on the video of the booth.", ID: "2", Hooks: []templates.Option{{Value: "1", Text: "38 Cora Lindqvist: 296.41 ft, hook 6, round 1"}},
		Form: filled("#", map[string]string{templates.FieldResult: "DQ", templates.FieldReason: "protest upheld: seen on the video of the booth"}, nil),
	}}
	return d
}

// deskClassOfficial is the desk after the second signature.
func deskClassOfficial() templates.DeskClass {
	d := deskClassRunning()
	c := classOfficial()
	d.Sentence, d.Awaited = c.Sentence, "Nothing: the result is official"
	d.Official = templates.DeskOfficial{State: c.Standing.State, Reopen: form("#"), Revisions: c.Revisions, Protests: []templates.DeskProtest{{Protest: weights("made"), ID: "2", By: "Sam Whitlock"}}}
	return d
}

// deskClassLodge is the desk after a protest without a name.
func deskClassLodge() templates.DeskClass {
	d := deskClassDecided()
	d.Official.Lodge = filled("#", map[string]string{templates.FieldAgainst: "2", templates.FieldAbout: "front wheel over the side line", templates.FieldFee: "taken"},
		map[string]string{templates.FieldBy: "The name of whoever protests is missing. Type it."})
	d.Official.Sign = filled("#", map[string]string{templates.FieldName: "Ada Flagg"}, map[string]string{"": "Protests are taken for 4 more minutes. Sign when the window is over."})
	return d
}
