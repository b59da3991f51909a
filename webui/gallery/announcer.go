package gallery

import "clayline/webui/templates"

// announcerPages are the states of the announcer's card.
func announcerPages() []Page {
	first, none := announcer(), announcer()
	first.Sentence, first.Lead, first.Full = "Next, to be called · Round 1", "Any distance leads now.", "A full pull leads, and comes back for the pull-off with whoever else makes one."
	first.Who, first.Hooking, first.Pulls = who("41"), templates.Hooking{Next: who("41"), AfterNext: who("7")}, nil
	none.Quiet, none.Sentence = &templates.Quiet{Text: "Nobody is called.", Next: "Desk: write the setting and freeze it."}, "Round 1 · the sled is being set"
	none.Hooking = templates.Hooking{}
	return []Page{
		show("announcer", "Announcer's card", announcer()),
		show("announcer-first", "Announcer's card, before the first call", first),
		show("announcer-none", "Announcer's card, nobody is called", none),
	}
}

// announcer is the card while somebody hooks.
func announcer() templates.Announcer {
	return templates.Announcer{
		Frame: staff("Booth · laptop by the tower"), Hooking: hookingNow(), Who: hookingNow().OnTrack,
		Class: "8,200 lb Field Stock", Sentence: "On the track · Round 1 · puller 9 of 14",
		Lead: "No distance short of a full pull leads now.", Full: "A full pull comes back for the pull-off with 23 Jonas Weir & 19 Tom Okafor, as it stands.",
		Pulls: []templates.EarlierPull{
			{Outcome: at("254.77 ft"), When: "today", Class: templates.Link{Text: "6,200 lb Hill Stock", Href: "#"}, Where: "Round 1 · sled Plumb Bob", Vehicle: "Brindle Ox"},
			{Outcome: full("measured 304.20 ft"), When: "20 September 2025", Class: templates.Link{Text: "8,200 lb Field Stock", Href: "#"}, Where: "Pull-off · sled Old Anchor", Vehicle: "Brindle Ox"},
		},
		Found: "Found by the name, at events in Tarn Hollow, of the newest 8 other classes. Another setting or another sled does not compare.",
		Links: []templates.Link{{Text: "The card of the class that is pulled now", Href: "#"}, {Text: "The class as everybody sees it", Href: "#"}, {Text: "Booth", Href: "#"}},
	}
}
