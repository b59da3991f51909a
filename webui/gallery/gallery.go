// Package gallery holds every page of Clayline filled with made-up data, one page for each state that matters,
// so that pages can be looked at and tested without a server and without a database.
//
// The event, the places and the people are invented. The class in the pictures is one evening of fourteen
// hooks; its pages agree with one another, so that 41's 281.36 is the same in the booth, on the class page and
// on the result.
//
// A state that a page gains gets a page here: what nobody looks at breaks unseen.
package gallery

import (
	"strings"

	"github.com/a-h/templ"

	"clayline/webui/templates"
)

// Page is one page of the gallery, ready to be rendered.
type Page struct {
	Name  string // for a file or an address: "class-running"
	Title string // what the page shows
	Body  templ.Component
}

// Pages are all pages of the gallery, those for everybody first. Each call makes them anew, so that a test may
// change one.
func Pages() []Page {
	var all []Page
	for _, some := range [][]Page{
		eventPages(), pitsPages(), classPages(), specialClassPages(), boothPages(), announcerPages(), lineupPages(), flagPages(), posterPages(),
		cabPages(), estimatePages(), earlierPages(), deskPages(), deskClassPages(), rulePages(), officialPages(), scalePages(), sledLogPages(), otherPages(), screenPages(), seasonPages(), entryPages(),
	} {
		all = append(all, some...)
	}
	return all
}

// show is the page of the gallery that draws p, under a name that no other page has.
func show(name, title string, p templates.Page) Page {
	return Page{Name: name, Title: title, Body: p.Page()}
}

// frame is the frame of a public page.
func frame() templates.Frame {
	return templates.Frame{
		Event: "Tarn Hollow Harvest Pull", EventHref: "/e/tarn-hollow", Context: "Saturday · Track 1",
		AsOf: "18:57:12", Again: "#",
	}
}

// staff is the frame of a page for a device with a pass, "Booth · laptop by the tower".
func staff(pass string) templates.Frame {
	f := frame()
	f.Pass, f.Device, _ = strings.Cut(pass, " · ")
	f.Leave = form("/leave")
	return f
}

// form is a form with what forms carry unseen.
func form(action string) *templates.Form {
	return &templates.Form{Action: action, Hidden: []templates.Hidden{
		{Name: "token", Value: "made-up"},
		{Name: "action", Value: "0f8f6a52-0000-4000-8000-000000000000"},
	}}
}

// filled is a form with what was typed into it, and what was wrong.
func filled(action string, values, errors map[string]string) *templates.Form {
	f := form(action)
	f.Values, f.Errors = values, errors
	return f
}

// pullers are the entries of the class in the pictures, in drawn order.
func pullers() []templates.Puller {
	return []templates.Puller{
		{Number: "41", Name: "Maud Farrow", Vehicle: "Brindle Ox", Home: "Kettle Bridge"},
		{Number: "7", Name: "Ellis Tarrant", Vehicle: "Late Hay", Home: "Lower Marsh"},
		{Number: "23", Name: "Jonas Weir", Vehicle: "Stone Boat", Home: "Tarn Hollow"},
		{Number: "12", Name: "Pia Holm", Vehicle: "Sunday Plough", Home: "Ashby Cross"},
		{Number: "5", Name: "Ravi Anand", Vehicle: "Long Acre", Home: "Wrenfield"},
		{Number: "38", Name: "Cora Lindqvist", Vehicle: "Gravel Psalm", Home: "Norrby"},
		{Number: "19", Name: "Tom Okafor", Vehicle: "Nettle King", Home: "Tarn Hollow"},
		{Number: "30", Name: "Ida Brandt", Vehicle: "Slow Thunder", Home: "Ashby Cross"},
		{Number: "11", Name: "Greta Moss", Vehicle: "Copper Kettle", Home: "Wrenfield"},
		{Number: "27", Name: "Sam Whitlock", Vehicle: "Fen Tiger", Home: "Lower Marsh"},
		{Number: "33", Name: "Nils Aker", Vehicle: "Half Moon", Home: "Norrby"},
		{Number: "7b", Name: "Ellis Tarrant", Vehicle: "Early Hay", Home: "Lower Marsh"},
		{Number: "16", Name: "Bea Colton", Vehicle: "Dry Creek", Home: "Kettle Bridge"},
		{Number: "2", Name: "Otto Lunde", Vehicle: "Barn Owl", Home: "Tarn Hollow"},
	}
}

// who is the puller with the number; the zero Puller for a number that nobody has.
func who(number string) templates.Puller {
	for _, p := range pullers() {
		if p.Number == number {
			return p
		}
	}
	return templates.Puller{}
}

// at is a measured distance.
func at(text string, remarks ...string) templates.Outcome {
	return templates.Outcome{Text: text, Remarks: remarks}
}

// full is a full pull.
func full(remarks ...string) templates.Outcome {
	return templates.Outcome{Text: "Full pull", Kind: templates.FullPull, Remarks: remarks}
}

// dq is a disqualification.
func dq(reason string) templates.Outcome {
	return templates.Outcome{Text: "DQ", Kind: templates.Disqualified, Remarks: []string{reason}}
}

// absent is an entry that did not hook.
func absent(text string, remarks ...string) templates.Outcome {
	return templates.Outcome{Text: text, Kind: templates.Absent, Remarks: remarks}
}

// waits is a hook to come.
func waits(text string, remarks ...string) templates.Outcome {
	return templates.Outcome{Text: text, Kind: templates.Waiting, Remarks: remarks}
}
