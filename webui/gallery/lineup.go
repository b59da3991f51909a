package gallery

import "clayline/webui/templates"

// lineupPages are the states of the line-up.
func lineupPages() []Page {
	done := lineup()
	done.Next, done.After, done.Count, done.Cooling, done.Tracks = nil, nil, "", "", nil
	done.Sentence, done.Quiet = "Nobody is on the track.", &templates.Quiet{Text: "Nobody is to hook.", Next: "Desk: start the pull-off."}
	return []Page{
		show("lineup", "Line-up", lineup()),
		show("lineup-done", "Line-up, nobody is to hook", done),
	}
}

// lineup is the line-up in the middle of a round.
func lineup() templates.Lineup {
	row := func(number, turn, where, words string) templates.LineRow {
		return templates.LineRow{Seen: templates.Seen{Puller: who(number), Words: words}, Turn: turn, Where: where, Says: form("#")}
	}
	refused := row("5", "4 hooks later", "", "")
	refused.Says = filled("#", nil, map[string]string{"": "The form is not complete. Reload the page and send it again."})
	return templates.Lineup{
		Frame: staff("Lane · phone"), Class: "8,200 lb Field Stock", Sentence: "On the track, and started: 27 Sam Whitlock.", Count: "1 here · 1 missing · 1 cooling down · 2 not seen",
		Next:    []templates.LineRow{row("33", "next", "here", "here since 18:41"), row("41", "2 hooks later", "missing", "missing since 18:44"), row("7", "3 hooks later", "", "")},
		After:   []templates.LineRow{refused, row("12", "5 hooks later", "cooling", "cooling down since 18:40, by the rules till 18:45")},
		Cooling: "After a re-hook: under these rules up to 4 places to cool down, and 5 minutes where fewer are left.",
		Tracks: []templates.OtherTrack{{Track: "Track 2", Class: templates.Link{Text: "5,500 lb Antique", Href: "#"}, Next: []templates.Seen{
			{Puller: who("30"), Words: "here since 18:39"}, {Puller: who("19")}, {Puller: who("38")},
		}}},
		Links: []templates.Link{{Text: "The class that is pulled now", Href: "#"}},
	}
}
