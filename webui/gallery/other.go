package gallery

import "clayline/webui/templates"

// otherPages are entering, paper, and what went wrong.
func otherPages() []Page {
	enter := templates.Enter{Frame: frame(), Role: "booth", Does: "The booth stores results and corrections.", Until: "today 23:00", Form: form("#")}
	used := templates.Enter{Frame: frame(), Wrong: "This link was used at 17:40. A link lets one device in, once.", Do: "Ask the desk for a new one."}
	return []Page{
		show("enter", "Entry link", enter),
		show("enter-used", "Entry link, used", used),
		show("sheet", "Class sheet to print", sheet()),
		show("result", "Result to print", result()),
		show("results", "Results of an event to print", results()),
		show("problem", "Something went wrong", problem()),
		show("not-found", "No such page", templates.Problem{
			Status: "404", Title: "There is no such page.", Kept: "Nothing was changed.", Do: "The address may have been cut off.",
			Back: templates.Link{Text: "Events on this server", Href: "/"},
		}),
	}
}

// noted is the word below a mark that the sled's crew noted a difference.
const noted = "The sled's crew noted that something differed on this hook. It changes no result; the officials decide."

// sheet is the class sheet before the start.
func sheet() templates.Sheet {
	s := templates.Sheet{
		Frame: frame(), Name: "8,200 lb Field Stock", When: "Saturday 19 September · planned 18:20", Where: "Track 1", Round: "Round 1", Unit: "ft", Second: true,
		Rules: "Full pull at 300 ft. One second attempt if the sled stops before 75 ft. The test puller keeps the distance or drops to last, before unhooking. Full pulls return for a pull-off.",
		Spare: 3, Drawn: "Drawn 14:05 from “tarn hollow 41 geese over the north gate”", Print: "As of 17:30, journal number 377",
		Setting: []templates.Term{
			{Label: "Box"}, {Label: "Slabs left / middle / right"}, {Label: "Gear"}, {Label: "Start hole"}, {Label: "Trip"},
			{Label: "Pan"}, {Label: "Blade"}, {Label: "Push-down"}, {Label: "Measured with", Value: "laser"}, {Label: "Frozen at"},
		},
	}
	for i, p := range pullers() {
		s.Rows = append(s.Rows, templates.SheetRow{Position: number(i + 1), Puller: p})
	}
	return s
}

// result is the printed result.
func result() templates.Result {
	c := classDecided()
	return templates.Result{
		Frame: frame(), Name: c.Name, When: "Saturday 19 September", Where: "Track 1", Winner: c.Winner,
		Rules:    "Full pull at 300 ft. Full pulls return for a pull-off, measured wherever the sled stops.",
		Standing: c.Standing, Rounds: c.Rounds, Draw: c.Draw, Print: "As of 20:15, journal number 486",
	}
}

// results is the print of the event late in the evening: one class is official, one is hooking, one is not drawn.
func results() templates.Results {
	decided, running := resultOf(classDecided(), "field"), resultOf(classRunning(), "street")
	decided.State, decided.Official = "official since 20:14, signed A. Flagg", true
	running.Name, running.State = "Street Diesel 4x4 Trucks", "hooking: puller 9 of 14"
	return templates.Results{
		Frame: frame(), Name: "Tarn Hollow Harvest Pull", Place: "Tarn Hollow", Dates: "19 September 2026", State: "1 of 3 classes official",
		Print: "As of 20:15, journal number 486", Back: templates.Link{Text: "The event", Href: "#"},
		Classes: []templates.ClassResult{decided, running, {
			ID: "hot", Name: "Hot Farm 9,500 lb", When: "Saturday 19 September", Where: "Track 1", Rules: "Every distance is measured.", State: "entries open, 8 so far",
		}},
	}
}

// resultOf is a class as the print of the event has it.
func resultOf(c templates.Class, id string) templates.ClassResult {
	r := templates.ClassResult{
		ID: id, Name: c.Name, When: "Saturday 19 September", Where: "Track 1", Rules: "Full pull at 300 ft. Full pulls return for a pull-off.", Unit: "ft",
		Winner: c.Winner, Rounds: c.Rounds, Draw: c.Draw, Messages: c.Messages,
	}
	for _, s := range append(c.Standing.Rows, c.Standing.Unplaced...) {
		row := templates.ResultRow{Puller: s.Puller, Place: s.Place, Remarks: s.Remarks}
		for _, round := range c.Rounds {
			var cell templates.ResultCell
			for _, o := range round.Order {
				if o.Number == s.Number {
					cell = templates.ResultCell{Outcome: o.Outcome, Hook: o.Position}
				}
			}
			if cell.Hook == "3" {
				cell.Noted, r.Noted = true, noted
			}
			row.Cells = append(row.Cells, cell)
		}
		r.Rows = append(r.Rows, row)
	}
	return r
}

// problem is a refused action with what to do about it.
func problem() templates.Problem {
	return templates.Problem{
		Frame: frame(), Status: "409", Title: "Somebody stored this hook a moment ago.",
		Kept: "Hook 9, number 11 Greta Moss, has 287.34 ft, line 413. Your 287.43 was not stored.",
		Do:   "If 287.43 is right, correct hook 9 in the booth.",
		Back: templates.Link{Text: "Back to the booth", Href: "#"},
	}
}
