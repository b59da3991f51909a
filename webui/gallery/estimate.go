package gallery

import (
	"strings"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/webui/picture"
	"clayline/webui/templates"
)

// estimatePages are the states of the estimate.
func estimatePages() []Page {
	wrong := estimate()
	wrong.Form = estimateForm()
	wrong.Form.Values[templates.FieldMuUp] = "0,3"
	wrong.Form.Errors = map[string]string{templates.FieldMuUp: "\"0,3\" is not a number. Write figures such as 0.35, with a point for the decimals."}
	wrong.Ground, wrong.Other, wrong.Rows, wrong.Words, wrong.Draft, wrong.Track = true, false, nil, "", nil, templates.Drawn{}
	lacking := templates.Estimate{Frame: staff("Cab · sled phone"), Class: "8,200 lb Field Stock", Cautions: doc.SledCautions()}
	lacking.Quiet = &templates.Quiet{Text: "The what-if needs the weight of the frame and where the start holes are.", Next: "Write it in the sled's description before the next class is planned; this class keeps the description it was planned with."}
	return []Page{
		show("estimate", "Estimate, another setting", estimate()),
		show("estimate-metric", "Estimate of a class in metres", estimateMetric()),
		show("estimate-error", "Estimate, what was typed was refused", wrong),
		show("estimate-lacking", "Estimate, the description lacks something", lacking),
		show("estimate-limited", "Estimate of a speed-limited class", estimateLimited()),
	}
}

// estimateJob is what the pictures show: an invented sled under two gears.
const estimateJob = `{"job": "whatif", "sled": {"wheelbase_ft": 22, "frame_weight_lb": 15000, "frame_cg_ft": 7, "pan_weight_lb": 2500, "box_empty_lb": 1700, "box_top_ft": 21,
	"advance": {"3": 0.09, "4": 0.1}, "pushdown": {"delay_ft": 0, "ramp_ft": 15, "share": 1}}, "ground": {"mu_up": 0.33, "mu_down": 0.44, "c_rr": 0.06},
	"setup": {"slabs_lb": 21600, "gear": "3", "trip_ft": 198}, "setup_to": {"slabs_lb": 21600, "gear": "4", "trip_ft": 178}, "drift": 0.08,
	"results": [{"id": "41", "distance_ft": 281.36}, {"id": "12", "full": true}, {"id": "23", "distance_ft": 254.77}]}`

// estimatePicture draws the job in two parts.
func estimatePicture(u doc.EstimateUnits) (curves, track templates.Drawn) {
	job, err := doc.ReadSledJob(strings.NewReader(estimateJob))
	if err != nil {
		return curves, track
	}
	sheet, _ := picture.Of(job, u)
	sheet.Title, sheet.Notes = "8,200 lb Field Stock: "+sheet.Title, nil
	sheet.Settings[0].Label, sheet.Settings[1].Label = "Round 1: 21,600 lb, gear 3, hole 2, trip 198 ft", "the other: 21,600 lb, gear 4, hole 2, trip 178 ft"
	curves.Wide, track.Wide = sheet.Curves(), sheet.Track()
	sheet.Settings[0].Label, sheet.Settings[1].Label = "Round 1", "The other"
	curves.Phone, track.Phone = sheet.ForPhone().Curves(), sheet.ForPhone().Track()
	curves.Cautions, track.Cautions, track.Signs = picture.Cautions(), picture.Cautions(), "Dot: where it stopped; bar: the range; diamond: the middle; arrow: no end is known; bold line: full pull."
	return curves, track
}

// estimateForm is the form with a setting in it.
func estimateForm() *templates.Form {
	return &templates.Form{Action: "#", Values: map[string]string{
		templates.FieldFrom: "1", templates.FieldBox: "21,600 lb", templates.FieldGear: "4", templates.FieldStartHole: "2", templates.FieldTrip: "178 ft",
		templates.FieldMuUp: "0.33", templates.FieldMuDown: "0.44", templates.FieldRolling: "0.06", templates.FieldDig: "1000", templates.FieldDigRamp: "12", templates.FieldDrift: "8",
	}}
}

// estimateMetric is the same sled in a class that is measured in metres.
func estimateMetric() templates.Estimate {
	e := estimate()
	e.Length, e.Weight, e.Speed, e.Words = "m", "kg", "km/h", "9,800 kg, gear 4, hole 2, trip 54.3 m"
	e.Curves, e.Track = estimatePicture(doc.EstimateUnitsOf(&domain.Class{Rules: domain.RuleSet{Line: metres("91.44")}}))
	e.Facts = []templates.EstimateFact{
		{Label: "Trip", Now: "60.4 m", Other: "54.3 m"}, {Label: "Top-out", Now: "71.0 m", Other: "64.0 m"}, {Label: "Mean drag to the line", Now: "4,553 kg", Other: "4,930 kg"},
	}
	e.Points = []templates.EstimatePoint{
		{Travel: "0", Drag: "2,132", DragTo: "2,132", Pan: "3,996", PanTo: "3,996", Box: "0.0", BoxTo: "0.0"},
		{Travel: "91", Drag: "8,177", DragTo: "8,177", Pan: "17,554", PanTo: "17,554", Box: "6.4", BoxTo: "6.4"},
	}
	e.Rows = []templates.EstimateLine{
		{Puller: who("41"), Says: "85.8 → 78.3 to 87.2", Strength: "about 3,222 kg"}, {Puller: who("12"), Says: "91.4 → 84.1 or more", Strength: "at least 4,553 kg"},
	}
	return e
}

// metres is a length in metres.
func metres(figures string) domain.Distance {
	d, _ := domain.ParseDistance(figures, domain.Metre)
	return d
}

// estimate is the what-if of the class in the pictures.
func estimate() templates.Estimate {
	curves, track := estimatePicture(doc.FeetAndPounds())
	e := templates.Estimate{
		Frame: staff("Desk · trailer"), Class: "8,200 lb Field Stock", Sentence: "Round 1 · Setting 1 · 3 hooks", Cautions: doc.SledCautions(),
		Form: estimateForm(), Rounds: []templates.Option{{Value: "1", Text: "Round 1"}}, Weight: "lb", Length: "ft", Speed: "mph", Gears: 4, Holes: 3,
		Notes: []string{"Left out: hook 8, number 30: something differed, hand drop."}, Advice: []string{"Elasticity above 2 for 23: short pulls predict badly."},
		Other: true, Words: "21,600 lb, gear 4, hole 2, trip 178 ft", Curves: curves, Track: track,
		Counts: "Full pulls under the other setting: at least 0, about 0, at most 2 of 3 hooks.", Pulls: "Full pulls",
		Fits: []templates.Fit{
			{Text: "2 vehicles stopped under two settings of this class: friction after the drop fits best at 1.41 times that before it. A track that dried between the two shows in the same way.", Use: templates.Link{Text: "Take 0.47", Href: "#"}},
			{Text: "3 vehicles stopped twice under one setting of this class: their pulls differ by 4.2 %.", Use: templates.Link{Text: "Take 5 %", Href: "#"}},
		},
		Draft:      &templates.Link{Text: "Use this as a draft", Href: "#"},
		DraftWords: "It fills the form in at the desk and writes nothing. What is frozen there was looked at by people.",
		Facts: []templates.EstimateFact{
			{Label: "Trip", Now: "198 ft", Other: "178 ft"}, {Label: "Top-out", Now: "233 ft", Other: "210 ft"}, {Label: "Mean drag to the line", Now: "10,038 lb", Other: "10,868 lb"},
		},
		Points: []templates.EstimatePoint{
			{Travel: "0", Drag: "4,700", DragTo: "4,700", Pan: "8,809", PanTo: "8,809", Box: "0.0", BoxTo: "0.0"},
			{Travel: "300", Drag: "18,028", DragTo: "18,028", Pan: "38,700", PanTo: "38,700", Box: "21.0", BoxTo: "21.0"},
		},
		Table: []templates.EstimateChoice{
			{Gear: "3", Hole: "2", Trip: "198 ft", TopOut: "233 ft", Mean: "10,038", Pulls: "1 (0 to 3)", Look: templates.Link{Text: "Gear 3, hole 2", Href: "#"}},
			{Gear: "4", Hole: "2", Trip: "178 ft", TopOut: "210 ft", Mean: "10,868", Pulls: "0 (0 to 2)", Here: true, Look: templates.Link{Text: "Gear 4, hole 2", Href: "#"}},
		},
	}
	for _, row := range [][2]string{{"41", "281 → 238 to 283"}, {"12", "300 → 255 or more"}, {"23", "255 → 208 to 247"}} {
		e.Rows = append(e.Rows, templates.EstimateLine{Puller: who(row[0]), Says: row[1], Strength: "about 9,670 lb", EndDrag: "232 ft"})
	}
	return e
}

// estimateLimited is the what-if of a class with a speed limit, for the cab, while the setting is frozen.
func estimateLimited() templates.Estimate {
	e := estimate()
	e.Frame, e.EndDrag, e.Fits, e.Draft = staff("Cab · sled phone"), true, nil, nil
	e.DraftWords = "To use it, tell the desk: 21,600 lb, gear 4, hole 2, trip 178 ft. The desk writes it down, and freezes it."
	return e
}
