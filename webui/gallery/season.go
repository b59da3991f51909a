package gallery

import "clayline/webui/templates"

// seasonPages are the seasons and records of a server, as everybody and as the desk sees them.
func seasonPages() []Page {
	return []Page{
		show("seasons", "Seasons", templates.Seasons{Seasons: []templates.Link{{Name: "Valley series 2026", Href: "#"}}}),
		show("seasons-none", "Seasons before the first", templates.Seasons{}),
		show("season", "Season", season()),
		show("season-fault", "Season that cannot be added up", templates.Season{Name: "Valley series 2026", Fault: "This season cannot be added up as the classes are now: series 4x4: 41 was at no pull of this series; name an entrant of the series."}),
		show("records", "Records", templates.Records{Tracks: recordTracks()}),
		show("records-none", "Records before the first", templates.Records{}),
		show("season-desk", "Desk of seasons", templates.SeasonDesk{Frame: staff("Desk · office laptop"), Seasons: []templates.Link{{Name: "Valley series 2026", Href: "#"}},
			Form: *filled("#", map[string]string{templates.FieldDocument: "{\n  \"name\": \"Season 2026\"\n}\n"}, nil)}),
		show("season-desk-refused", "Season that was refused", templates.SeasonDesk{Frame: staff("Desk · office laptop"), Name: "Valley series 2026",
			Public: templates.Link{Text: "The season as everybody sees it", Href: "#"}, Journal: []templates.JournalLine{{Number: "2", Time: "18:04", Who: "desk", What: "season written"}},
			Form: *filled("#", map[string]string{templates.FieldDocument: "{\n  \"name\": \"Valley series 2026\",\n  \"season\": {\"drops\": -1}\n}\n"},
				map[string]string{templates.FieldDocument: "Line 3, season.drops: -1 lies outside 0 to 9999. Write a whole number within."})}),
	}
}

// season is a season of two series, in one of which the points are the drivers'.
func season() templates.Season {
	return templates.Season{
		Name: "Valley series 2026",
		Series: []templates.SeasonSeries{
			{ID: "series-1", Name: "8,200 lb Field Stock", Pulls: "3 pulls: Elm, Oak, Ash.", Waiting: "To come, once the result is official: Tarn Hollow.", Rows: []templates.SeasonRow{
				{Puller: templates.Puller{Number: "7", Name: "Ellis Tarrant", Vehicle: "Elm 40 · Oak 38 · Ash (36)"}, Place: "1", Points: "78"},
				{Puller: templates.Puller{Number: "23", Name: "Jonas Weir", Vehicle: "Elm (38) · Oak 40 · Ash 38"}, Place: "2", Points: "78", Note: "As many points as 7, behind by total_distance"},
				{Puller: templates.Puller{Number: "12", Name: "Pia Holm", Vehicle: "Elm - · Oak 20 · Ash -"}, Points: "20", Note: "At too few pulls"},
			}},
			{ID: "series-2", Name: "Hill Stock", Pulls: "No pull is official yet."},
			{ID: "series-3", Name: "Open", Pulls: "1 pull: Elm.", Rows: []templates.SeasonRow{{Puller: templates.Puller{Name: "Rhea Stanhope", Vehicle: "Elm 40"}, Place: "1", Points: "40"}}},
		},
		Records: recordTracks(),
		Links:   []templates.Link{{Text: "Standing as CSV", Href: "#"}, {Text: "Standing as JSON", Href: "#"}, {Text: "Other seasons", Href: "#"}},
	}
}

// recordTracks are the records of one track.
func recordTracks() []templates.RecordTrack {
	return []templates.RecordTrack{{ID: "track-1", Name: "Wrenfield, Track 1", Rows: []templates.RecordRow{
		{Class: "8,200 lb Field Stock", Result: "312.44 ft", Holder: templates.Puller{Number: "41", Name: "Maud Farrow"}, Made: "Elm, pull-off 1", Under: "Plumb Bob: 21,600 lb, gear 3, hole 2, trip 198 ft"},
	}}}
}
