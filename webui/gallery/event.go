package gallery

import (
	"time"

	"clayline/webui/templates"
)

// eventPages are the pages above any class.
func eventPages() []Page {
	home := templates.Home{Events: []templates.EventLine{
		{Name: "Tarn Hollow Harvest Pull", Href: "/e/tarn-hollow", Dates: "19 – 20 September 2026", Place: "Tarn Hollow showground", State: "Now hooking"},
		{Name: "Kettle Bridge Summer Night", Href: "/e/kettle-bridge", Dates: "18 July 2026", Place: "Kettle Bridge", State: "Results official"},
	}}
	return []Page{
		show("home", "Events of this server", home),
		show("home-empty", "A server without an event", templates.Home{}),
		show("event", "Event, now hooking", event()),
		show("event-before", "Event, before the first hook", eventBefore()),
		show("event-two-tracks", "Event, two tracks hooking", eventTwoTracks()),
		show("day", "How the day runs", dayBoard()),
		show("day-empty", "How the day runs, no class planned", templates.DayBoard{Frame: frame(), Name: "Tarn Hollow Harvest Pull", Caution: caution}),
		show("event-empty", "Event without a programme", eventEmpty()),
	}
}

// event is the event while its first class hooks.
func event() templates.Event {
	return templates.Event{
		Frame: frame(), Name: "Tarn Hollow Harvest Pull", Place: "Tarn Hollow showground",
		Dates: "19 – 20 September 2026",
		Now: []templates.TrackNow{{
			Hooking: hookingNow(), Track: "Track 1", Class: "8,200 lb Field Stock",
			Href: "/e/tarn-hollow/c/field-stock", Sentence: "Round 1 · puller 9 of 14",
		}},
		Days: programme(), Find: "/e/tarn-hollow/pits", Caution: caution,
		Runs: []templates.Run{{Says: "12 minutes behind; Street Diesel 4x4 Trucks about 19:45 to 20:15."}, {Says: "Curfew 23:00: in 24 of 100 such days the programme runs past it."}},
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
			{Name: "Afternoon · Track 1", Time: "from 13:00", Breaks: []string{"Break at about 15:00, 20 min"}, Classes: []templates.ClassLine{
				{Time: "13:00", Name: "Antique Division 2, 5,000 lb", Href: "#", State: "result, official since 14:20", Winner: "64 Wil Sandford, 211.08 ft"},
				{Time: "14:30", Name: "Garden 1,050 lb, youth", Href: "#", State: "result, provisional; protests until 19:10", Winner: "3 Ana Reyes-Whitlock, 98.42 ft"},
			}},
			{Name: "Evening · Track 1", Time: "from 18:00", Classes: []templates.ClassLine{
				{Time: "18:20", Name: "8,200 lb Field Stock", Href: "#", State: "hooking: puller 9 of 14", Now: true},
				{Time: "19:40", Name: "Street Diesel 4x4 Trucks", Href: "#", State: "drawn, 17 entries", Likely: "likely 19:46–20:13, middle 19:55"},
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

// caution goes with every time.
const caution = "Times are estimates; the call in the pits counts."

// dayBoard is an evening that runs late: a class that is over, one that is pulled, one to come and an empty one.
func dayBoard() templates.DayBoard {
	at := func(hour, minute int) time.Time { return time.Date(2026, 9, 19, hour, minute, 0, 0, time.UTC) }
	return templates.DayBoard{Frame: frame(), Name: "Tarn Hollow Harvest Pull", Caution: caution, Links: []templates.Link{{Text: "Programme", Href: "#"}},
		Tracks: []templates.DayTrack{{
			Name: "Track 1", Sentence: "12 minutes behind; Hot Farm 9,500 lb about 21:00 to 21:35.",
			Curfews: []string{"Curfew 23:00: in 61 of 100 such days the programme runs past it. More likely than not Hot Farm 9,500 lb would have to be cut to keep it; in 61 of 100 it ends later."},
			Sessions: []templates.DaySession{{
				ID: "day-1-1", Name: "Evening", Start: "Saturday 19 September, from 18:00", Breaks: []string{"Break at about 19:30, 20 min"},
				Rows: []templates.DayRow{
					{Name: "8,200 lb Field Stock", Href: "#", State: "result, provisional; a protest is undecided; protests until 19:38", Planned: "18:00–19:20", Begins: "18:05", Over: "19:28"},
					{Name: "Street Diesel 4x4 Trucks", Href: "#", State: "hooking: puller 9 of 14", Planned: "19:30–20:52", Begins: "19:40", Over: "20:48–21:20", Remark: "middle 21:01; 5 min a hook, the usual"},
					{Name: "Hot Farm 9,500 lb", Href: "#", State: "drawn", Planned: "21:02–22:50", Begins: "20:58–21:32", Over: "22:36–23:40", Remark: "middle 21:12 to 23:05; 4.3 min a hook, as this class took before"},
					{Name: "Two-wheel-drive trucks", Href: "#", State: "nobody is entered yet, and nothing can be said"},
				},
				Chart: templates.DayChart{Title: "Evening: planned and expected", Place: time.UTC, AsOf: at(20, 21), Curfew: at(23, 0), Bars: []templates.DayBar{
					{Name: "8,200 lb Field Stock", Start: at(18, 0), End: at(19, 20), From: at(18, 5), To: at(19, 28), Pulled: true},
					{Name: "Street Diesel 4x4 Trucks", Start: at(19, 30), End: at(20, 52), From: at(19, 40), To: at(21, 1), Early: at(20, 48), Late: at(21, 20)},
					{Name: "Hot Farm 9,500 lb", Start: at(21, 2), End: at(22, 50), From: at(21, 12), To: at(23, 5), Early: at(22, 36), Late: at(23, 40), Likely: at(20, 58), Latest: at(21, 32)},
					{Name: "Two-wheel-drive trucks"},
				}},
			}},
		}}}
}

// eventTwoTracks is the event with a pull-off on one track and trucks on another.
func eventTwoTracks() templates.Event {
	e := event()
	e.Now[0].Sentence = "Pull-off · puller 2 of 2"
	e.Now[0].Hooking = templates.Hooking{
		OnTrack: who("19"),
		ToBeat:  templates.ToBeat{Label: "To beat: 23 Jonas Weir", Value: "308.17", Unit: "ft"},
	}
	e.Now = append(e.Now, templates.TrackNow{
		Track: "Track 2", Class: "Street Diesel 4x4 Trucks", Href: "#", Sentence: "Round 1 · puller 1 of 17",
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
