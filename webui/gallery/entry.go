package gallery

import "clayline/webui/templates"

// entryPages are the pages of one entry and of one puller.
func entryPages() []Page {
	maud := templates.Puller{Number: "41", Name: "Maud Farrow", Vehicle: "Brindle Ox", Home: "Wrenfield"}
	class := templates.Link{Text: "8,200 lb Field Stock", Href: "#"}
	links := []templates.Link{{Text: "Find me", Href: "#"}, {Text: "All hooks of Maud Farrow", Href: "#"}}
	return []Page{
		show("entry", "Entry", templates.Entry{Frame: frame(), Puller: maud, Class: class, State: "result, official since 20:14", Stands: "281.36, place 3", Words: []string{"Place 3"}, Points: "13", Links: links,
			Hooks: []templates.EntryHook{{Round: "Round 1", Order: "place 1 of 14 in the order", Outcome: templates.Outcome{Text: "281.36", Remarks: []string{"kept as test hook"}}}}}),
		show("entry-waiting", "Entry that waits", templates.Entry{Frame: frame(), Puller: maud, Class: class, State: "puller 9 of 14", Links: links, Words: []string{"Round 1, puller 12 of 14 · 3 hooks ahead"},
			Hooks: []templates.EntryHook{{Round: "Round 1", Order: "place 12 of 14 in the order", Outcome: templates.Outcome{Text: "19:05–19:07", Kind: templates.Waiting}}}}),
		show("entry-scratched", "Entry that was scratched", templates.Entry{Frame: frame(), Puller: maud, Class: class, State: "entries open", Scratched: "gearbox", Links: links}),
		show("puller", "Puller", templates.PullerPage{Name: maud.Name, Home: maud.Home, Entries: []templates.PulledLine{
			{Outcome: templates.Outcome{Text: "281.36"}, Event: templates.Link{Text: "Tarn Hollow Harvest Pull", Href: "#"}, Class: class, Date: "19 September 2026", Number: "41", With: "Brindle Ox", Place: "Place 3, not official"},
			{Outcome: templates.Outcome{Text: "Full pull", Kind: templates.FullPull}, Event: templates.Link{Text: "Kettle Bridge Summer Night", Href: "#"}, Class: class, Date: "18 July 2026", Number: "4", With: "Brindle Ox", Place: "Place 1"},
		}}),
		show("vehicle", "Vehicle", templates.VehiclePage{Name: maud.Vehicle, Home: maud.Home, Entries: []templates.PulledLine{
			{Outcome: templates.Outcome{Text: "281.36"}, Event: templates.Link{Text: "Tarn Hollow Harvest Pull", Href: "#"}, Class: class, Date: "19 September 2026", Number: "41", With: maud.Name, Place: "Place 3, not official"},
			{Outcome: templates.Outcome{Text: "DQ", Kind: templates.Disqualified}, Event: templates.Link{Text: "Kettle Bridge Summer Night", Href: "#"}, Class: class, Date: "18 July 2026", Number: "4", With: "Ida Brandt"},
		}}),
	}
}
