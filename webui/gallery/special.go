package gallery

import (
	"strconv"

	"clayline/webui/templates"
)

// specialClassPages are classes that are out of the ordinary.
func specialClassPages() []Page {
	return []Page{
		show("class-two-settings", "Class, a round on two settings", classTwoSettings()),
		show("class-reset", "Class, restarted after a reset", classReset()),
		show("class-metric", "Class in metres, floating, shared places", classMetric()),
		show("class-long-names", "Class with long names", classLongNames()),
		show("class-crowded", "Class with many entries and full pulls", classCrowded()),
	}
}

// number is n in words of digits.
func number(n int) string { return strconv.Itoa(n) }

// resetSetting is a setting that followed a reset.
func resetSetting(scope string) templates.Setting {
	s := setting()
	s.Name, s.Scope, s.Reason = "Setting 2", scope, "two out the gate in the first three hooks"
	s.Box = nil
	s.Lines[0].Value = "13 slabs (7 left, 6 right), 23,400 lb"
	return s
}

// classTwoSettings is a class whose rules keep hooks made before a reset.
func classTwoSettings() templates.Class {
	c := classRunning()
	first := setting()
	first.Scope = "hooks 1 to 4"
	r := &c.Rounds[0]
	r.Settings = []templates.Setting{first, resetSetting("hooks 5 to 14")}
	r.Mixed = "This round was pulled on two settings: hooks 1 to 4 on setting 1, hooks 5 to 14 on setting 2."
	c.Messages = []templates.Message{{Text: r.Mixed}}
	return c
}

// classReset is a class that started over after a reset.
func classReset() templates.Class {
	c := class("Round 1 · puller 1 of 14 · started again on setting 2")
	c.OnTrack, c.Next, c.AfterNext = who("41"), who("7"), who("23")
	c.ToBeat = templates.ToBeat{Label: "No distance yet on this setting"}
	c.Strip = strip()
	first := setting()
	first.Scope = "3 hooks, void"
	c.Rounds = []templates.Round{{
		ID: "round-1", Name: "Round 1", State: "puller 1 of 14",
		Order:    order(waits("on the track", "281.36 on setting 1 is void"), waits("next", "full pull on setting 1 is void")),
		Settings: []templates.Setting{first, resetSetting("every hook since 18:44")},
	}}
	return c
}

// classMetric is a class in metres without a line, with a tie.
func classMetric() templates.Class {
	c := class("Round 2 · puller 3 of 4 · every distance is measured, the better of two counts")
	c.Frame.Event, c.Frame.Context = "Nordhage Herbstziehen", "Samstag · Bahn 1"
	c.Name = "Freie Klasse 4,5 t"
	c.Draw = nil
	c.OnTrack, c.Next = who("33"), who("38")
	c.ToBeat = templates.ToBeat{Label: "To beat: 2 and 16, level", Value: "87.32", Unit: "m"}
	c.Strip = &templates.Strip{ID: "strip", Name: c.Name, Unit: "m", Restart: 20000, Step: 10000, Max: 100000, Lanes: []templates.Lane{
		{Name: "Round 1", Stops: []templates.Stop{stop("33", "61.05", 61050), stop("38", "18.40", 18400), stop("2", "87.32", 87320), stop("16", "85.77", 85770)}},
		{Name: "Round 2", Stops: []templates.Stop{stop("2", "80.00", 80000), {Label: "16", Text: "87.32", At: 87320, Kind: templates.StopLeads}}},
	}}
	row := func(position, n string, o templates.Outcome) templates.OrderRow {
		return templates.OrderRow{Position: position, Puller: who(n), Outcome: o, Now: o.Text == "on the track"}
	}
	c.Rounds = []templates.Round{
		{ID: "round-2", Name: "Round 2", State: "puller 3 of 4", Order: []templates.OrderRow{
			row("1", "2", at("80.00")), row("2", "16", at("87.32")), row("3", "33", waits("on the track")), row("4", "38", waits("next"))}},
		{ID: "round-1", Name: "Round 1", State: "done 11:20", Order: []templates.OrderRow{
			row("1", "2", at("87.32")), row("2", "16", at("85.77")), row("3", "33", at("61.05")), row("4", "38", at("18.40", "second attempt 18.40"))}},
	}
	c.Standing = templates.Standing{State: "provisional", Rows: []templates.StandingRow{
		{Place: "1=", Puller: who("2"), Outcome: at("87.32", "round 1")}, {Place: "1=", Puller: who("16"), Outcome: at("87.32", "round 2")},
		{Place: "3", Puller: who("33"), Outcome: at("61.05", "round 1")}, {Place: "4", Puller: who("38"), Outcome: at("18.40", "round 1")},
	}}
	return c
}

// classLongNames is the class with names that need room.
func classLongNames() templates.Class {
	c := classRunning()
	long := templates.Puller{
		Number: "1027x", Name: "Bartholomew Featherstonehaugh-Cholmondeley the Younger",
		Vehicle: "The Considerably Overestimated Donnerwetterdampfmaschinenschlepper", Home: "Upper Saint Wendreda under the Long Hill",
	}
	c.Name = "Super Street Diesel Four-wheel-drive Trucks up to 8,500 lb, second division (regional qualifier)"
	c.Frame.Event = "One Hundred and Twelfth Annual Tarn Hollow and District Harvest Pull"
	c.OnTrack = long
	c.Rounds[0].Order[8].Puller = long
	c.Rounds[0].Order[1].Puller = long
	c.Rounds[0].Order[1].Remarks = []string{"re-hooked: official stopped the pull for a loose chain", "corrected: was 236.10, digits swapped"}
	c.Standing.Rows[4].Puller = long
	c.Strip.Lanes[0].Stops[1].Label = long.Number
	return c
}

// classCrowded is a class of thirty-six with nine full pulls.
func classCrowded() templates.Class {
	c := class("Round 1 is done · pull-off of nine due · 300 ft")
	c.Name = "Street Diesel 4x4 Trucks"
	c.ToBeat = templates.ToBeat{Label: "Nine full pulls · best short of the line", Value: "299.98", Unit: "ft"}
	var stops []templates.Stop
	var rows []templates.OrderRow
	for i := range 36 {
		label, at := number(101+i), 299980-i*i*137
		text := strconv.FormatFloat(float64(at)/1000, 'f', 2, 64)
		p := templates.Puller{Number: label, Name: pullers()[i%14].Name, Vehicle: pullers()[(i*5+3)%14].Vehicle}
		if i%4 == 3 {
			stops = append(stops, templates.Stop{Label: label, Kind: templates.StopFull})
			rows = append(rows, templates.OrderRow{Position: number(i + 1), Puller: p, Outcome: full()})
			continue
		}
		stops = append(stops, stop(label, text, at))
		rows = append(rows, templates.OrderRow{Position: number(i + 1), Puller: p, Outcome: templates.Outcome{Text: text}})
	}
	c.Strip = strip(stops...)
	c.Rounds = []templates.Round{{ID: "round-1", Name: "Round 1", State: "done 20:40", Order: rows, Settings: []templates.Setting{setting()}}}
	return c
}
