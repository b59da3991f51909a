package gallery

import "clayline/webui/templates"

// pitsPages are the states of the page of the pits.
func pitsPages() []Page {
	asked := pits(pitsRunning())
	asked.Asked, asked.Query, asked.Found = true, "7", "2 entries found."
	asked.Classes[0].Rows = []templates.PitsRow{asked.Classes[0].Rows[1], asked.Classes[0].Rows[11]}
	nobody := pits()
	nobody.Asked, nobody.Query, nobody.Found = true, "“Maud” <41>", "Nobody found. Type the number on the vehicle, or a part of a name."
	return []Page{
		show("pits", "Pits, all entries", pits(pitsRunning(), pitsEntering())),
		show("pits-found", "Pits, found without scripts", asked),
		show("pits-nobody-found", "Pits, nobody found", nobody),
		show("pits-empty", "Pits, nobody is entered yet", pits()),
		show("pits-pull-off", "Pits, a pull-off is due", pits(pitsPullOff())),
	}
}

// pits is the page with the classes.
func pits(classes ...templates.PitsClass) templates.Pits {
	f := frame()
	f.Context = ""
	return templates.Pits{Frame: f, Action: "/e/tarn-hollow/pits", Classes: classes}
}

// pitsClass is the class in the pictures.
func pitsClass(state string) templates.PitsClass {
	return templates.PitsClass{ID: "class-8200-lb-field-stock", Name: "8,200 lb Field Stock", Href: "#", Where: "Saturday · Track 1", State: state}
}

// pitsRunning is the class with the ninth hook on the track.
func pitsRunning() templates.PitsClass {
	c := pitsClass("hooking: puller 9 of 14")
	for i, row := range order(nine()...) {
		pit := templates.PitsRow{Puller: row.Puller, Outcome: row.Outcome, ID: "n" + row.Number}
		switch {
		case i == 8:
			pit.Hook = "Round 1, puller 9 of 14"
		case i == 9:
			pit.Hook = "Round 1, puller 10 of 14 · 1 hook ahead"
		case i > 9:
			pit.Hook = "Round 1, puller " + number(i+1) + " of 14 · " + number(i-8) + " hooks ahead"
		case row.Kind == templates.Measured:
			pit.So = "place " + number(i+3)
		}
		c.Rows = append(c.Rows, pit)
	}
	return c
}

// pitsEntering is another class, not drawn.
func pitsEntering() templates.PitsClass {
	return templates.PitsClass{
		ID: "class-hot-farm", Name: "Hot Farm 9,500 lb", Href: "#", Where: "Saturday · Track 2", State: "entries open, 1 so far", Likely: "Likely begins about 20:05–20:40",
		Rows: []templates.PitsRow{{Puller: who("7"), Outcome: waits("not drawn yet"), ID: "n7--2"}},
	}
}

// pitsPullOff is the class between its round and the pull-off.
func pitsPullOff() templates.PitsClass {
	c := pitsClass("pull-off to come")
	c.Bring = []string{"Before a pull-off: these rules ask for: a new weighing."}
	for i, row := range order(fourteen()...) {
		pit := templates.PitsRow{Puller: row.Puller, Outcome: row.Outcome, ID: "n" + row.Number, So: "place " + number(i+1), PullOff: "not in the pull-off"}
		if row.Kind == templates.FullPull {
			pit.So, pit.PullOff = "place 1, shared", "in the pull-off"
		}
		c.Rows = append(c.Rows, pit)
	}
	return c
}
