package gallery

import "clayline/webui/templates"

// rulePages are pages under rules that leave more to people, or that say more, than those of the class in the pictures.
func rulePages() []Page {
	return []Page{
		show("class-stopped", "Class, stopped by rain", classStopped()),
		show("class-line-moved", "Class, the line was moved, with its rules", classLineMoved()),
		show("class-kept-back", "Class, a choice before the distance is told", classKeptBack()),
		show("class-vehicle-again", "Class, a vehicle that hooked twice and places once", classVehicleAgain()),
		show("result-stopped", "Result to print of a class that was stopped", resultStopped()),
		show("booth-call", "Booth, until when to hook", boothCall()),
		show("booth-disqualify-error", "Booth, a place that is no distance", boothDisqualifyError()),
		show("booth-kept-back", "Booth, a choice before the distance is told", boothKeptBack()),
		show("booth-no-choice", "Booth, the test puller must hook again", boothNoChoice()),
		show("cab-choice", "Cab, a choice is open and a reset is advised", cabChoice()),
		show("desk-class-course", "Desk of a class, what the rules leave to the officials", deskClassCourse()),
		show("desk-class-stopped", "Desk of a class that was stopped", deskClassStopped()),
		show("desk-class-before-pull-off", "Desk of a class, what is asked for before the pull-off", deskClassBeforePullOff()),
	}
}

// resetAdvised is the advice after two out the gate.
func resetAdvised() []templates.Message {
	return []templates.Message{{Text: "The first 2 hooks against this setting were full pulls: these rules advise a reset of the sled.", Do: "The officials and the sled operator decide."}}
}

// said is what a rule set says.
func said() []string {
	return []string{
		"The class is measured in feet, and the full-pull line lies at 320 ft.",
		"The line may be moved to 300 ft.",
		"The line is set after 1 hook at the latest.",
		"The line caps class pulls: at or past it all are equal, and two or more full pullers come back for a pull-off.",
		"A class has 1 class round.",
		"An attempt may be repeated once when it stops short of 75 ft.",
		"The test puller may keep the result or hook again at the end.",
		`The choice must be made "before unhooking".`,
	}
}

// classStopped is the class that rain ended.
func classStopped() templates.Class {
	c := classRunning()
	c.Sentence, c.Hooking = "Round 1 · stopped, provisional until the officials make it official", templates.Hooking{ToBeat: c.ToBeat}
	c.Messages = []templates.Message{{Text: "The class was stopped 18:58: rain.", Do: "By its rules every hook that counts stands."}}
	c.Left, c.Rounds[0].State = nil, "puller 8 of 14"
	c.Rounds[0].Order = order(fourteen()[:8]...)
	return c
}

// classLineMoved is the class after the officials moved the line.
func classLineMoved() templates.Class {
	c := classRunning()
	c.Facts = []templates.Term{
		{Label: "Full-pull line", Value: "320 ft, moved from 300 ft"}, {Label: "Measured to", Value: "the forward-most point of the pan", Typed: true},
		{Label: "Speed limit", Value: "3.5 mph from 1/3 of the track on"},
	}
	c.Rules = said()
	return c
}

// classKeptBack is the class while the test puller chooses before the distance is told.
func classKeptBack() templates.Class {
	c := class("Round 1 · puller 1 of 14, a choice is open")
	c.Messages = []templates.Message{{
		Text: "41 decides about the test hook, before the distance is told: keeps it or drops to last and hooks again, before unhooking.",
		Do:   "Saying nothing keeps the result. Nobody is called before the choice is stored.",
	}}
	c.OnTrack, c.ToBeat, c.Strip = who("41"), templates.ToBeat{Label: "Nobody has a distance yet"}, strip()
	c.Rounds = []templates.Round{{ID: "round-1", Name: "Round 1", State: "puller 1 of 14", Order: order(waits("chooses")), Settings: []templates.Setting{setting()}}}
	c.Rounds[0].Order[0].Now = true
	return c
}

// classVehicleAgain is the class with a vehicle that two drivers hooked.
func classVehicleAgain() templates.Class {
	c := classDecided()
	again := who("7")
	again.Number, again.Name = "7c", "Nell Tarrant"
	c.Standing.Unplaced = append(c.Standing.Unplaced, templates.StandingRow{Puller: again, Outcome: at("251.06", "no place: its vehicle is placed already")})
	return c
}

// resultStopped is the print of a class that was stopped.
func resultStopped() templates.Result {
	r, c := result(), classStopped()
	r.Winner, r.Messages, r.Standing, r.Rounds = "", c.Messages, c.Standing, c.Rounds
	r.Facts = classLineMoved().Facts
	return r
}

// boothCall is the booth under rules that give a time to hook.
func boothCall() templates.Booth {
	b := booth()
	b.Call = &templates.Call{
		Text:   "To hook until 19:00, 3 minutes from the call.",
		Advice: "These rules count from “sled back on the line”. Under these rules a puller who is not ready is disqualified; the officials decide.",
	}
	b.Advice = resetAdvised()
	b.Acts.Throttle = true
	return b
}

// boothDisqualifyError is the booth after a place that was mistyped.
func boothDisqualifyError() templates.Booth {
	b := booth()
	b.Acts.Disqualified = filled("#", map[string]string{
		templates.FieldWhatWent: "out of bounds", templates.FieldReason: "left rear wheel", templates.FieldAt: "2813",
	}, map[string]string{templates.FieldAt: "2813 ft lies far beyond the track. Enter again stores it all the same."})
	return b
}

// boothKeptBack is the booth while the test puller chooses before the distance is told.
func boothKeptBack() templates.Booth {
	b := boothChoice()
	b.Choice.Kept = "The distance is not announced before the choice: public pages do not show it yet."
	b.Choice.Silence = "Who says nothing drops to last and hooks again."
	b.Choice.Options[0].Detail = "281.36 ft stands, and the next puller is called."
	b.Choice.Options[2].Detail += " This is what saying nothing means."
	return b
}

// boothNoChoice is the booth where the rules leave the test puller no choice.
func boothNoChoice() templates.Booth {
	b := boothChoice()
	b.Choice.Text, b.Choice.Silence, b.Choice.Options = "41 Maud Farrow decides about the test hook: 281.36 ft.", "Under these rules there is no choice.", b.Choice.Options[2:]
	return b
}

// cabChoice is the cab while a choice is open.
func cabChoice() templates.Cab {
	c := cab()
	c.Choice, c.Advice = boothKeptBack().Choice, resetAdvised()
	c.Facts = classLineMoved().Facts
	c.OnTrack, c.Next, c.Hook = templates.Puller{}, templates.Puller{}, "puller 1 of 14"
	return c
}

// deskClassCourse is the desk with all that rules may leave to the officials.
func deskClassCourse() templates.DeskClass {
	d := deskClassDrawn()
	d.Advice = []templates.Message{{Text: "These rules want more entries than there are; below that: an exhibition.", Do: "The officials decide what it is."}}
	d.Again = []templates.Option{{Text: "a vehicle of its own"}, {Value: "41", Text: "the same vehicle as number 41"}}
	d.Course = templates.Course{
		Test: form("#"), Pullers: []templates.Option{{Value: "7", Text: "7 Ellis Tarrant", Typed: true}, {Value: "23", Text: "23 Jonas Weir", Typed: true}},
		Line: form("#"), Lines: []templates.Option{{Value: "320 ft", Text: "320 ft"}},
		LineNow: "It lies at 300 ft. Under these rules it is set after 1 hook of the first round at the latest; results that stand are read again against it.",
		Stop:    form("#"), Effect: "Under these rules what was pulled to the end of a round stands. As it is now, nobody has a place then.",
	}
	return d
}

// deskClassStopped is the desk of a class that was stopped.
func deskClassStopped() templates.DeskClass {
	d := deskClassRunning()
	d.Sentence, d.Awaited = classStopped().Sentence, "Desk: go on with the class, or make the result official"
	d.Course = templates.Course{Stopped: "stopped 18:58: rain", Resume: filled("#", nil, map[string]string{templates.FieldReason: "The reason is missing. Type it."})}
	d.Official, d.Setting.Reset = templates.DeskOfficial{State: "provisional", Sign: form("#")}, nil
	return d
}

// deskClassBeforePullOff is the desk under rules that ask for something before the pull-off.
func deskClassBeforePullOff() templates.DeskClass {
	d := deskClassPullOff()
	d.PullOff.Before = []string{"These rules ask for: a new weighing.", "Under these rules whoever drove in the class drives in the pull-off."}
	return d
}
