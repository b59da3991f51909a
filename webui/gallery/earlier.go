package gallery

import "clayline/webui/templates"

// earlierPages are the states of the search for earlier classes.
func earlierPages() []Page {
	none, cab := earlier(), earlier()
	none.Days, none.Quiet = nil, &templates.Quiet{Text: "No earlier class is the same in all of this.", Next: "Untick something and search again."}
	cab.Why, cab.Back = "The desk writes the setting; this page is to compare.", templates.Link{Text: "Back to the cab", Href: "#"}
	for i := range cab.Days {
		for j := range cab.Days[i].Settings {
			cab.Days[i].Settings[j].Use = ""
		}
	}
	return []Page{
		show("earlier", "Earlier classes", earlier()),
		show("earlier-none", "Earlier classes, none found", none),
		show("earlier-cab", "Earlier classes, for the cab", cab),
	}
}

// earlier is the search with two days that it found.
func earlier() templates.Earlier {
	box := setting()
	return templates.Earlier{
		Frame: staff("Desk"), Class: "8,200 lb Field Stock", Action: "#", Bound: "The newest 20 classes at most are shown.",
		Same: []templates.Tick{
			{Name: templates.FieldSameClass, Text: "this class", On: true}, {Name: templates.FieldSameTrack, Text: "this track", On: true},
			{Name: templates.FieldSameSled, Text: "this sled, Plumb Bob"},
		},
		Days: []templates.EarlierDay{
			{
				Date: "9 May 2026", Event: "Tarn Hollow Spring Pull", Class: templates.Link{Text: "8,200 lb Field Stock", Href: "#"}, Where: "Track 1 · Plumb Bob",
				Settings: []templates.EarlierSetting{
					{Setting: box, Round: "Round 1", Went: []string{"9 hooks", "2 full pulls", "1 disqualified", "best 304.20 ft", "distances 188.02 to 296.41 ft, median 263.10 ft", "top speed 18.4 mph"}, Use: "#"},
					{Setting: box, Round: "Pull-off", Went: []string{"2 hooks", "0 full pulls", "best 291.38 ft", "distances 287.34 to 291.38 ft, median 287.34 ft"}, Use: "#"},
				},
			},
			{
				Date: "20 September 2025", Event: "Tarn Hollow Harvest Pull", Class: templates.Link{Text: "8,200 lb Field Stock", Href: "#"}, Where: "Track 1 · Old Anchor",
				Settings: []templates.EarlierSetting{{Setting: box, Round: "Round 1", Went: []string{"no hook counts"}, Use: "#"}},
			},
		},
		Back: templates.Link{Text: "Back to the desk of the class", Href: "#"},
	}
}
