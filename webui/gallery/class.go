package gallery

import "clayline/webui/templates"

// classPages are the states a class goes through.
func classPages() []Page {
	return []Page{
		show("class-entries", "Class, entries open", classEntries()),
		show("class-drawn", "Class, drawn", classDrawn()),
		show("class-running", "Class, hooking", classRunning()),
		show("class-choice", "Class, a choice is open", classChoice()),
		show("class-pull-off-due", "Class, round done, pull-off due", classPullOffDue()),
		show("class-pull-off", "Class, in the pull-off", classPullOff()),
		show("class-decided", "Class, decided", classDecided()),
	}
}

// class is what is the same in every state.
func class(sentence string) templates.Class {
	return templates.Class{
		Frame: frame(), Name: "8,200 lb Field Stock", Sentence: sentence, Find: "/e/tarn-hollow/pits",
		Draw: draw(),
	}
}

// draw is how the order of the class came about.
func draw() *templates.Draw {
	return &templates.Draw{
		Seed: "tarn hollow 41 geese over the north gate", Time: "14:05",
		How: templates.Link{Text: "The proof as a file, for clayline draw verify", Href: "#"},
		Notes: []string{"Not kept: 30 and 5 and 16 (Ida Brandt) are only 2 hooks apart instead of 3: no order keeps more beside the other rules.",
			"41 has place 1, given by an official.",
			"It is try 7: the first plain draw that keeps the rules, from the text with #7 behind it.",
			"Drawn 2 times; the last time because: two late entries"},
	}
}

// order is the hook order with the first outcomes filled in; the rest waits.
func order(outcomes ...templates.Outcome) []templates.OrderRow {
	var rows []templates.OrderRow
	for i, p := range pullers() {
		row := templates.OrderRow{Puller: p, Position: number(i + 1), Outcome: waits("")}
		if i < len(outcomes) {
			row.Outcome = outcomes[i]
		}
		row.Now = row.Text == "on the track"
		rows = append(rows, row)
	}
	return rows
}

// nine are the outcomes up to the ninth hook, which is on the track.
func nine() []templates.Outcome {
	return []templates.Outcome{
		at("281.36", "kept as test hook"), at("263.10"), full(), at("254.77", "re-hooked: sled fault"),
		dq("out of bounds"), at("296.41", "corrected: was 269.41, misread"), full(),
		at("188.02", "second attempt"), waits("on the track"), waits("next", "19:02"),
		waits("after next", "19:05–19:07"), waits("19:08–19:12"), waits("19:12–19:17"), waits("19:15–19:21"),
	}
}

// fourteen are the outcomes of the whole round.
func fourteen() []templates.Outcome {
	return append(nine()[:8:8],
		at("287.34"), at("291.08"), absent("absent", "broken driveshaft"),
		at("270.02", "dropped to last by choice"), dq("lost a part"), at("244.91"))
}

// strip is the track with the stops of the first round.
func strip(stops ...templates.Stop) *templates.Strip {
	return &templates.Strip{
		ID: "strip", Name: "8,200 lb Field Stock", Unit: "ft",
		Line: 300000, Restart: 75000, Step: 50000, Max: 325000,
		Lanes: []templates.Lane{{Name: "Round 1", Stops: stops}},
	}
}

// eightStops are the stops of the first eight hooks.
func eightStops() []templates.Stop {
	return []templates.Stop{
		stop("41", "281.36", 281360), stop("7", "263.10", 263100), stop("12", "254.77", 254770),
		stop("38", "296.41", 296410), stop("30", "188.02", 188020),
		{Label: "23", Kind: templates.StopFull}, {Label: "19", Kind: templates.StopFull},
	}
}

// allStops are the stops of the whole round.
func allStops() []templates.Stop {
	return append(eightStops(),
		stop("11", "287.34", 287340), stop("27", "291.08", 291080),
		stop("7b", "270.02", 270020), stop("2", "244.91", 244910))
}

// stop is one measured stop.
func stop(label, text string, at int) templates.Stop {
	return templates.Stop{Label: label, Text: text, At: at}
}

// setting is the first setting of the class.
func setting() templates.Setting {
	return templates.Setting{
		Name: "Setting 1", Scope: "the same for every hook since 18:21", Box: box(),
		Lines: []templates.Term{
			{Label: "Box", Value: "12 slabs, 21,600 lb"},
			{Label: "Gear", Value: "3 of 4"}, {Label: "Start hole", Value: "2 of 3"},
			{Label: "Trip", Value: "198 ft"}, {Label: "Pan", Value: "9,400 lb"},
			{Label: "Blades", Value: "1.5 in", Typed: true}, {Label: "Push-down", Value: "off", Typed: true},
			{Label: "Measured by", Value: "laser"},
		},
	}
}

// classEntries is the class while entries are open.
func classEntries() templates.Class {
	c := class("Entries open until 13:30 · 300 ft, full pulls return for a pull-off")
	c.Draw = &templates.Draw{Notes: []string{"A commitment to the next draw was published 13:05: 877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd. " +
		"The secret text that has this hash, and words said aloud at the draw, make the seed."}}
	c.Entries = pullers()[:6]
	return c
}

// classDrawn is the class before its first hook.
func classDrawn() templates.Class {
	c := class("Drawn · planned 18:20 · 14 to hook, 300 ft, full pulls return for a pull-off")
	c.Next, c.AfterNext = who("41"), who("7")
	c.Strip = strip()
	c.Left = []string{"Likely begins about 18:20–18:35.", "This round is likely over about 19:30–20:10.", "Times are estimates from the programme; the call in the pits counts."}
	c.Rounds = []templates.Round{{ID: "round-1", Name: "Round 1", State: "not started", Order: order()}}
	c.Links = []templates.Link{{Text: "Class sheet to print", Href: "#"}}
	return c
}

// classRunning is the class in the pictures.
func classRunning() templates.Class {
	c := class("Round 1 · puller 9 of 14 · 300 ft, full pulls return for a pull-off")
	c.Hooking, c.Left = hookingNow(), []string{"This round is likely over about 19:40–20:05.", "Times are estimates as of 19:12; the call in the pits counts."}
	c.Strip = strip(eightStops()...)
	c.Rounds = []templates.Round{{
		ID: "round-1", Name: "Round 1", State: "puller 9 of 14", Order: order(nine()...),
		Settings: []templates.Setting{setting()},
	}}
	c.Standing = templates.Standing{State: "provisional", Rows: []templates.StandingRow{
		{Place: "1=", Puller: who("23"), Outcome: full("in the pull-off")},
		{Place: "1=", Puller: who("19"), Outcome: full("in the pull-off")},
		{Place: "3", Puller: who("38"), Outcome: at("296.41")},
		{Place: "4", Puller: who("41"), Outcome: at("281.36")},
		{Place: "5", Puller: who("7"), Outcome: at("263.10")},
		{Place: "6", Puller: who("12"), Outcome: at("254.77")},
		{Place: "7", Puller: who("30"), Outcome: at("188.02")},
	}, Unplaced: []templates.StandingRow{{Puller: who("5"), Outcome: dq("out of bounds")}}}
	c.Links = []templates.Link{{Text: "Class sheet to print", Href: "#"}, {Text: "Result to print", Href: "#"}}
	return c
}

// classChoice is the class while the test puller makes up her mind.
func classChoice() templates.Class {
	c := class("Round 1 · puller 1 of 14 · 300 ft, full pulls return for a pull-off")
	c.Messages = []templates.Message{{
		Text: "41 decides: keeps 281.36 or drops to last, before unhooking.",
		Do:   "Saying nothing keeps the distance.",
	}}
	c.OnTrack, c.Next, c.AfterNext = who("41"), who("7"), who("23")
	c.ToBeat = templates.ToBeat{Label: "Test hook, not yet kept", Value: "281.36", Unit: "ft"}
	c.Strip = strip(stop("41", "281.36", 281360))
	outcome := at("281.36", "test hook: the choice is open")
	c.Rounds = []templates.Round{{
		ID: "round-1", Name: "Round 1", State: "puller 1 of 14", Order: order(outcome, waits("next")),
		Settings: []templates.Setting{setting()},
	}}
	c.Rounds[0].Order[0].Now = true
	return c
}

// classPullOffDue is the class between the round and the pull-off.
func classPullOffDue() templates.Class {
	c := classRunning()
	c.Hooking = templates.Hooking{ToBeat: templates.ToBeat{Label: "Two full pulls · best short of the line", Value: "296.41", Unit: "ft"}}
	c.Sentence, c.Left = "Round 1 is done · pull-off of two due · 300 ft, the pull-off floats", nil
	c.Messages = []templates.Message{{Text: "23 Jonas Weir and 19 Tom Okafor return for the pull-off.", Do: "It starts when the sled is set again."}}
	c.Strip = strip(allStops()...)
	c.Rounds[0].State, c.Rounds[0].Order = "done 19:24", order(fourteen()...)
	c.Standing = standingDone()
	return c
}

// standingDone is the standing after the round.
func standingDone() templates.Standing {
	return templates.Standing{State: "provisional", Rows: []templates.StandingRow{
		{Place: "1=", Puller: who("23"), Outcome: full("in the pull-off")},
		{Place: "1=", Puller: who("19"), Outcome: full("in the pull-off")},
		{Place: "3", Puller: who("38"), Outcome: at("296.41")}, {Place: "4", Puller: who("27"), Outcome: at("291.08")},
		{Place: "5", Puller: who("11"), Outcome: at("287.34")}, {Place: "6", Puller: who("41"), Outcome: at("281.36")},
		{Place: "7", Puller: who("7b"), Outcome: at("270.02")}, {Place: "8", Puller: who("7"), Outcome: at("263.10")},
		{Place: "9", Puller: who("12"), Outcome: at("254.77")}, {Place: "10", Puller: who("2"), Outcome: at("244.91")},
		{Place: "11", Puller: who("30"), Outcome: at("188.02")},
	}, Unplaced: []templates.StandingRow{
		{Puller: who("5"), Outcome: dq("out of bounds")},
		{Puller: who("16"), Outcome: dq("lost a part")},
		{Puller: who("33"), Outcome: absent("absent", "broken driveshaft")},
	}}
}

// pullOff is the round of the full pulls.
func pullOff(state string, second templates.Outcome) templates.Round {
	s := setting()
	s.Scope = "the same for every hook since 19:38"
	s.Box = nil
	s.Lines[0].Value = "14 slabs (7 left, 7 right), 25,200 lb"
	s.Lines[1].Value = "4 of 4"
	return templates.Round{
		ID: "pull-off", Name: "Pull-off", State: state, Settings: []templates.Setting{s},
		Order: []templates.OrderRow{
			{Position: "1", Puller: who("23"), Outcome: at("308.17")},
			{Position: "2", Puller: who("19"), Outcome: second, Now: second.Kind == templates.Waiting},
		},
	}
}

// classPullOff is the class in its pull-off.
func classPullOff() templates.Class {
	c := classPullOffDue()
	c.Sentence = "Pull-off · puller 2 of 2 · measured wherever the sled stops"
	c.Messages = nil
	c.Hooking = templates.Hooking{OnTrack: who("19"), ToBeat: templates.ToBeat{Label: "To beat: 23 Jonas Weir", Value: "308.17", Unit: "ft"}}
	c.Rounds = append([]templates.Round{pullOff("puller 2 of 2", waits("on the track"))}, c.Rounds...)
	c.Strip.Lanes = append(c.Strip.Lanes, templates.Lane{Name: "Pull-off", Stops: []templates.Stop{
		{Label: "23", Text: "308.17", At: 308170, Kind: templates.StopLeads},
	}})
	return c
}

// classDecided is the class with its winner.
func classDecided() templates.Class {
	c := classPullOff()
	c.Sentence = "Decided, provisional until the officials make it official"
	c.Winner = "19 · Tom Okafor, Nettle King"
	c.Hooking = templates.Hooking{ToBeat: templates.ToBeat{Label: "Pull-off", Value: "312.44", Unit: "ft"}}
	c.Rounds[0] = pullOff("done 19:44", at("312.44"))
	lane := &c.Strip.Lanes[1]
	lane.Stops = []templates.Stop{
		stop("23", "308.17", 308170), {Label: "19", Text: "312.44", At: 312440, Kind: templates.StopLeads},
	}
	c.Standing.Rows[0] = templates.StandingRow{Place: "1", Puller: who("19"), Outcome: at("312.44", "full pull in round 1")}
	c.Standing.Rows[1] = templates.StandingRow{Place: "2", Puller: who("23"), Outcome: at("308.17", "full pull in round 1")}
	c.Points = points()
	return c
}
