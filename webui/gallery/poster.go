package gallery

import (
	"clayline/webui/picture"
	"clayline/webui/templates"
)

// posterPages are the posters for the pits.
func posterPages() []Page {
	return []Page{show("posters", "Posters for the pits", posters(false)), show("posters-here", "Posters, opened on the server itself", posters(true))}
}

// posters is the page with the poster of the event and that of a class.
func posters(here bool) templates.Posters {
	list := []templates.Poster{
		{Title: "Tarn Hollow Harvest Pull", When: "19 September 2026", Text: "Find your hook: by number or by name.", Address: "https://pull.example/e/tarn-hollow-harvest-pull/pits"},
		{Event: "Tarn Hollow Harvest Pull", Title: "8,200 lb Field Stock", When: "Saturday 19 September", Where: "Evening session · Track 1", Text: "Hook order and results of this class.",
			Address: "https://pull.example/e/tarn-hollow-harvest-pull/8200-lb-field-stock"},
	}
	for i := range list {
		code, err := picture.Code(list[i].Address)
		if err != nil {
			panic(err) // the addresses stand above
		}
		list[i].Code = code
	}
	return templates.Posters{Frame: staff("Desk · laptop"), Here: here, List: list}
}
