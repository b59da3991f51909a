package gallery

import "clayline/webui/templates"

// screenPages are the big screen and the line over a picture, in what a day brings.
func screenPages() []Page {
	line, lines := screen(screenTrack()), screen(screenTrack(), secondTrack())
	line.Bare, lines.Bare = true, true
	return []Page{
		show("screen", "Big screen, hooking", screen(screenTrack())),
		show("screen-choice", "Big screen, a choice is open", screen(screenChoice())),
		show("screen-decided", "Big screen, a winner", screen(screenDecided())),
		show("screen-drawn", "Big screen, before the first hook", screen(screenDrawn())),
		show("screen-two-tracks", "Big screen, two tracks", screen(screenTrack(), secondTrack())),
		show("screen-long", "Big screen, long names", screen(screenLong())),
		show("screen-empty", "Big screen, without a programme", screen()),
		show("strip", "Line over a picture, hooking", line),
		show("strip-two-tracks", "Line over a picture, two tracks", lines),
	}
}

// screen is the big screen with these tracks.
func screen(tracks ...templates.ScreenTrack) templates.Screen {
	s := templates.Screen{Frame: frame(), Tracks: tracks}
	for i := range tracks {
		s.Tracks[i].ID = "track-" + number(i+1)
		if s.Tracks[i].Strip != nil {
			s.Tracks[i].Strip.ID = s.Tracks[i].ID + "-strip"
		}
	}
	return s
}

// screenTrack is the class of the pictures.
func screenTrack() templates.ScreenTrack {
	c := classRunning()
	return templates.ScreenTrack{
		Hooking: c.Hooking, Class: c.Name, Sentence: "Round 1 · puller 9 of 14", Strip: c.Strip,
		Last: templates.StandingRow{Puller: who("30"), Outcome: at("188.02")}, First: c.Standing.Rows[:3],
	}
}

// screenChoice is the screen while the test puller makes up her mind.
func screenChoice() templates.ScreenTrack {
	c, t := classChoice(), screenTrack()
	t.Hooking, t.Strip, t.Sentence = c.Hooking, c.Strip, "Round 1 · puller 1 of 14"
	t.Message, t.Last = c.Messages[0].Text, templates.StandingRow{Puller: who("41"), Outcome: at("281.36")}
	t.First = []templates.StandingRow{{Place: "1", Puller: who("41"), Outcome: at("281.36")}}
	return t
}

// screenDecided is the screen with a winner, while the next class is made ready.
func screenDecided() templates.ScreenTrack {
	c, t := classDecided(), screenTrack()
	t.Hooking, t.Strip, t.Sentence = c.Hooking, c.Strip, "Result, provisional"
	t.Strip.Lanes = t.Strip.Lanes[len(t.Strip.Lanes)-1:]
	t.Winner, t.Then, t.ThenBegins = who("19"), "Street Diesel 4x4 Trucks", "Likely begins about 19:40–20:05"
	t.Last, t.First = templates.StandingRow{Puller: who("19"), Outcome: at("312.44")}, c.Standing.Rows[:3]
	return t
}

// screenDrawn is the screen before the first hook.
func screenDrawn() templates.ScreenTrack {
	t := screenTrack()
	t.Hooking = templates.Hooking{Next: who("41"), ToBeat: templates.ToBeat{Label: "Nobody has a distance yet"}}
	t.Sentence, t.Strip, t.Last, t.First = "Drawn", strip(), templates.StandingRow{}, nil
	return t
}

// secondTrack is what is pulled beside the class of the pictures.
func secondTrack() templates.ScreenTrack {
	two := eventTwoTracks().Now[1]
	return templates.ScreenTrack{Hooking: two.Hooking, Track: two.Track, Class: two.Class, Sentence: two.Sentence}
}

// screenLong is the screen with everything as long as people make it.
func screenLong() templates.ScreenTrack {
	t := screenTrack()
	t.Class = "Light Limited Super Stock Diesel Four-Wheel-Drive Trucks 7,500 lb"
	long := templates.Puller{Number: "1007b", Name: "Maximiliana Featherstonehaugh-Oyelaran", Vehicle: "The Last Overdue Library Book of Lower Marsh", Home: "Wrenfield"}
	t.OnTrack, t.Next, t.Last.Puller, t.First[0].Puller = long, long, long, long
	t.ToBeat.Label = "To beat: 1007b Maximiliana Featherstonehaugh-Oyelaran"
	t.Strip = strip(allStops()...)
	return t
}
