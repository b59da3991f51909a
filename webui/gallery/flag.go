package gallery

import "clayline/webui/templates"

// flagPages are the states of the flagman's page.
func flagPages() []Page {
	told, none := flag(), flag()
	told.Hooks[0].Told = []string{"Told 18:42: disqualification proposed: out of bounds.", "Noted: red by official."}
	told.Hooks[0].Back = form("#")
	none.Hooks, none.Quiet = nil, &templates.Quiet{Text: "Nobody is on the track.", Next: "Booth: call the next puller."}
	asked, refused := flag(), flag()
	asked.Hooks, asked.Ask = nil, flagAsk(form("#"))
	refused.Hooks, refused.Ask = nil, flagAsk(filled("#", nil, map[string]string{"": "The reason of the disqualification is missing. Add it, such as out of bounds."}))
	return []Page{
		show("flag", "Flag", flag()), show("flag-told", "Flag, something was told", told), show("flag-nobody", "Flag, nobody is on the track", none),
		show("flag-asked", "Flag, why", asked), show("flag-refused", "Flag, the reason is missing", refused),
	}
}

// flag is the page while somebody is on the track.
func flag() templates.Flag {
	says := []templates.Link{{Text: "Starts again", Href: "#"}, {Text: "Re-hook", Href: "#"}, {Text: "Light red, breakaway", Href: "#"}, {Text: "Disqualified", Href: "#"}}
	return templates.Flag{
		Frame: staff("Lane · phone"), Class: "8,200 lb Field Stock",
		Hooks: []templates.FlagHook{
			{Puller: who("27"), Title: "Hook 9 · started 18:41", Says: says},
			{Puller: who("33"), Title: "Hook 8 · stored 18:38", Over: true, Says: says[1:]},
		},
		Links: []templates.Link{{Text: "The class that is pulled now", Href: "#"}, {Text: "Line-up", Href: "#"}},
	}
}

// flagAsk is the question about a disqualification.
func flagAsk(f *templates.Form) *templates.FlagAsk {
	return &templates.FlagAsk{
		Puller: who("27"), Title: "Hook 9: Disqualified", Words: "In words, if a hand is free", Form: f, Leave: templates.Link{Text: "Say nothing", Href: "#"},
		Press: []templates.Press{
			{Text: "As typed", Detail: "Under these rules it is a disqualification, without a distance."},
			{Value: "out of bounds", Text: "Out of bounds", Detail: "Under these rules it is a disqualification, without a distance."},
			{Value: "lost part", Text: "Lost part", Detail: "Under these rules the distance where it happened counts."},
		},
	}
}
