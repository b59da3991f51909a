package gallery

import "clayline/webui/templates"

// eventPages are the pages above any class.
func eventPages() []Page {
	home := templates.Home{Events: []templates.EventLine{
		{Name: "Tarn Hollow Harvest Pull", Href: "/e/tarn-hollow", Dates: "Sat 19 – Sun 20 September 2026", Place: "Tarn Hollow showground", State: "Now hooking"},
		{Name: "Kettle Bridge Summer Night", Href: "/e/kettle-bridge", Dates: "Sat 18 July 2026", Place: "Kettle Bridge", State: "Results official"},
	}}
	return []Page{
		show("home", "Events of this server", home),
		show("home-empty", "A server without an event", templates.Home{}),
		show("event", "Event, now hooking", event()),
		show("event-before", "Event, before the first hook", eventBefore()),
		show("event-two-tracks", "Event, two tracks hooking", eventTwoTracks()),
		show("event-empty", "Event without a programme", eventEmpty()),
	}
}

// event is the event while its first class hooks.
func event() templates.Event {
	return templates.Event{
		Frame: frame(), Name: "Tarn Hollow Harvest Pull", Place: "Tarn Hollow showground",
		Dates: "Saturday 19 and Sunday 20 September 2026",
		Now: []templates.TrackNow{{
			Hooking: hookingNow(), Track: "Track 1", Class: "8,200 lb Field Stock",
			Href: "/e/tarn-hollow/c/field-stock", Sentence: "Round 1 · hook 9 of 14",
		}},
		Days: programme(), Find: "/e/tarn-hollow/pits",
	}
}

// hookingNow is who hooks in the class of the pictures.
func hookingNow() templates.Hooking {
	return templates.Hooking{
		OnTrack: who("11"), Next: who("27"), AfterNext: who("33"),
		ToBeat: templates.ToBeat{Label: "Two full pulls · best short of the line", Value: "296.41", Unit: "ft"},
	}
}

// programme is both days.
func programme() []templates.Day {
	return []templates.Day{
		{Name: "Saturday 19 September", Sessions: []templates.Session{
			{Name: "Afternoon · Track 1", Time: "from 13:00", Classes: []templates.ClassLine{
				{Time: "13:00", Name: "Antique Division 2, 5,000 lb", Href: "#", State: "result, official", Winner: "64 Wil Sandford, 211.08 ft"},
				{Time: "14:30", Name: "Garden 1,050 lb, youth", Href: "#", State: "result, protest window open until 19:10", Winner: "3 Ana Reyes-Whitlock, 98.42 ft"},
			}},
			{Name: "Evening · Track 1", Time: "from 18:00", Classes: []templates.ClassLine{
				{Time: "18:20", Name: "8,200 lb Field Stock", Href: "#", State: "hooking: hook 9 of 14", Now: true},
				{Time: "19:40", Name: "Street Diesel 4x4 Trucks", Href: "#", State: "drawn, 17 entries"},
				{Time: "21:00", Name: "Hot Farm 9,500 lb", Href: "#", State: "entries open, 8 so far"},
			}},
		}},
		{Name: "Sunday 20 September", Sessions: []templates.Session{
			{Name: "Track 1", Time: "from 10:00", Classes: []templates.ClassLine{
				{Time: "10:00", Name: "Two-wheel-drive trucks", Href: "#", State: "entries open"},
			}},
		}},
	}
}

// eventBefore is the event in the morning.
func eventBefore() templates.Event {
	e := event()
	e.Now = nil
	e.Days = []templates.Day{{Name: "Saturday 19 September", Sessions: []templates.Session{
		{Name: "Evening · Track 1", Time: "from 18:00", Classes: []templates.ClassLine{
			{Time: "18:20", Name: "8,200 lb Field Stock", Href: "#", State: "drawn, 14 entries"},
			{Time: "19:40", Name: "Street Diesel 4x4 Trucks", Href: "#", State: "entries open"},
		}},
	}}}
	return e
}

// eventTwoTracks is the event with a pull-off on one track and trucks on another.
func eventTwoTracks() templates.Event {
	e := event()
	e.Now[0].Sentence = "Pull-off · hook 2 of 2"
	e.Now[0].Hooking = templates.Hooking{
		OnTrack: who("19"),
		ToBeat:  templates.ToBeat{Label: "To beat: 23 Jonas Weir", Value: "308.17", Unit: "ft"},
	}
	e.Now = append(e.Now, templates.TrackNow{
		Track: "Track 2", Class: "Street Diesel 4x4 Trucks", Href: "#", Sentence: "Round 1 · hook 1 of 17",
		Hooking: templates.Hooking{
			OnTrack: templates.Puller{Number: "88", Name: "Dell Ransome", Vehicle: "Overdue Library Book", Home: "Ashby Cross"},
			Next:    templates.Puller{Number: "4", Name: "Kit Marlowe-Oyelaran", Vehicle: "Mudlark"},
			ToBeat:  templates.ToBeat{Label: "No distance yet"},
		},
	})
	return e
}

// eventEmpty is an event that was only just set up.
func eventEmpty() templates.Event {
	e := event()
	e.Now, e.Days = nil, nil
	return e
}
