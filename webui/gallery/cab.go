package gallery

import "clayline/webui/templates"

// cabPages are the states of the cab.
func cabPages() []Page {
	return []Page{
		show("cab", "Cab, the frozen setting", cab()),
		show("cab-ready", "Cab, before a hook", cabReady("")),
		show("cab-held", "Cab, the crew holds", cabReady("18:41: the sled crew holds: cable frayed.")),
		show("cab-differed", "Cab, what differed on a hook", cabDiffered()),
		show("cab-draft", "Cab, a setting not frozen yet", cabDraft()),
		show("cab-trend", "Cab, a round is over", cabTrend()),
		show("cab-none", "Cab, no setting yet", cabNone()),
		show("cab-metric", "Cab in metres and kilograms", cabMetric()),
	}
}

// cab is the cab during the round.
func cab() templates.Cab {
	return templates.Cab{
		Frame: staff("Cab · sled phone"), Class: "8,200 lb Field Stock",
		Setting: "Setting 1", Round: "Round 1", Frozen: "18:21", Hook: "puller 9 of 14",
		OnTrack: who("11"), Next: who("27"), Box: box(), Earlier: templates.Link{Text: "Settings of earlier classes", Href: "#"}, Note: "Wet strip on the left from 150 ft.",
		Gauges: []templates.Gauge{
			{Label: "Box", Value: "21,600", Unit: "lb", Detail: "12 slabs: 6 left, 6 right"},
			{Label: "Gear", Value: "3", Unit: "of 4"},
			{Label: "Start hole", Value: "2", Unit: "of 3"},
			{Label: "Trip", Value: "198", Unit: "ft"},
			{Label: "Pan", Value: "9,400", Unit: "lb", Minor: true},
			{Label: "Blades", Value: "1.5 in", Typed: true, Minor: true},
			{Label: "Push-down", Value: "off", Typed: true, Minor: true},
			{Label: "Speed limit", Value: "12 mph", Minor: true},
			{Label: "Measured by", Value: "laser", Minor: true},
		},
	}
}

// cabDraft is the cab while the setting is still being written.
func cabDraft() templates.Cab {
	c := cab()
	c.Frozen, c.Hook, c.OnTrack, c.Next, c.Note = "", "14 pullers", templates.Puller{}, who("41"), ""
	return c
}

// cabNone is the cab before there is any setting.
func cabNone() templates.Cab {
	c := cabDraft()
	c.Gauges, c.Setting = nil, ""
	c.Quiet = &templates.Quiet{Text: "There is no setting for this class yet.", Next: "Desk: enter the pullers, then draw."}
	return c
}

// cabMetric is the cab of a sled in metres.
func cabMetric() templates.Cab {
	c := cab()
	c.Class = "Freie Klasse 4,5 t"
	c.Gauges[0] = templates.Gauge{Label: "Box", Value: "12,450.5", Unit: "kg", Detail: "15 slabs: 5 left, 5 middle, 5 right"}
	c.Box = nil
	c.Gauges[3] = templates.Gauge{Label: "Trip", Value: "62.5", Unit: "m"}
	return c
}

// cabTrend is the cab once a round is over: what is said of the hook order.
func cabTrend() templates.Cab {
	c := cab()
	c.OnTrack, c.Next, c.Trend = templates.Puller{}, templates.Puller{}, trend()
	return c
}

// trend is what is said of a round that is over.
func trend() *templates.Trend {
	return &templates.Trend{
		Rounds:  []templates.Term{{Label: "Round 1", Value: "Later hooks tended to go further: tau 0.31 over 14 hooks. A random order would show as much in 14 of 100 rounds."}},
		Caution: "This is no reason to change a result: tracks change, and who drew late may have been better.",
	}
}

// cabReady is the cab before a hook: what was said of it, or nothing yet.
func cabReady(said string) templates.Cab {
	c := cab()
	c.Ready = &templates.Ready{
		Who: "11 " + who("11").Name, Said: said, Held: said != "", Confirm: form("/cab/ready"), Hold: form("/cab/hold"),
		Points: []string{"box back", "pan up", "push-down reset", "box drive engaged", "cable attached and tested", "lanes clear"},
	}
	return c
}

// speeds is the question about the speed of a hook in a class with a limit.
func speeds() *templates.Speeds {
	return &templates.Speeds{
		Hooks: []templates.Option{{Value: "8", Text: "30 Ida Brandt, hook 8: top 4.2 mph, at the line 3.9 mph"}, {Value: "7", Text: "19 Tom Okafor, hook 7"}},
		Unit:  "mph", Limit: "Limit 4 mph from 1/3 of the track on.", Form: form("/cab/speed"),
	}
}

// cabDiffered is the cab after a hook on which something differed.
func cabDiffered() templates.Cab {
	c := cab()
	c.Advice = []templates.Message{{
		Text: "Hook 8, 30 Ida Brandt: red by itself.",
		Do:   "A re-hook because of the sled is possible under these rules. Nobody hooks again by itself: the officials decide, and the booth stores it.",
	}}
	c.Speeds = speeds()
	c.Differed = &templates.Differed{
		Hooks: []templates.Option{{Value: "8", Text: "30 Ida Brandt, hook 8"}, {Value: "7", Text: "19 Tom Okafor, hook 7"}},
		Words: []string{"hand drop", "hand push-down", "box brake", "wheel brakes", "kill switch", "breakaway", "red by operator", "red by official", "red by itself", "clutch out early"},
		Noted: []string{"Hook 8, 30 Ida Brandt: red by itself"}, Form: form("/cab/differed"),
	}
	return c
}
