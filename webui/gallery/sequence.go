package gallery

import "clayline/webui/templates"

// ordering is an evening that the desk puts in order: one class has begun, two share a driver, and the proposal saves
// something.
func ordering() templates.Sequence {
	stock := templates.SequenceClass{Slug: "field-stock", Name: "8,200 lb Field Stock", Place: "1", Time: "18:20", Detail: "14 entries, about 80 min", Begun: true, First: true}
	hot := templates.SequenceClass{Slug: "hot-farm", Name: "Hot Farm 9,500 lb", Place: "2", In: "1", Time: "19:54", Detail: "8 entries, about 50 min", Before: "9 min box: 8 slabs in, gear 3 to 4, start hole 2 to 3; 5 min track", Moves: "One down: 7 min less (box −7).", First: true}
	street := templates.SequenceClass{Slug: "street", Name: "Street Diesel 4x4 Trucks", Place: "3", In: "1", Time: "20:58", Detail: "17 entries, about 95 min", Before: "9 min box: 8 slabs out, gear 4 to 3, start hole 3 to 2; 5 min track", Shares: []string{"Ellis Tarrant also in 8,200 lb Field Stock"}, Moves: "One up: 7 min less (box −7).", Pinned: true, Last: true}
	better := []templates.SequenceClass{stock, {Name: street.Name, Time: "19:45", Before: "0 min box: the box stays as it is; 5 min track"}, {Name: hot.Name, Time: "21:34", Before: "9 min box: 8 slabs in, gear 3 to 4, start hole 2 to 3; 5 min track"}}
	return templates.Sequence{
		Frame: staff("Desk · office laptop"),
		Form: templates.Form{Action: "#", Values: map[string]string{
			"at-2-hot-farm": "2", "at-3-street": "3", "session-1-hot-farm": "1", "session-1-street": "1", "track-hot-farm": "3", "track-street": "3", "curfew-1": "22:00", "hook": "5", "slab": "0.5", "gear": "3", "hole": "2", "unknown": "10", "track": "5", "rest": "20",
		}},
		Sessions:   []templates.SequenceSession{{ID: "1", Name: "Saturday evening", Starts: "Saturday 19 September 18:20", Classes: []templates.SequenceClass{stock, hot, street}}},
		InSessions: []templates.Option{{Value: "1", Text: "Saturday evening", Typed: true}, {Value: "2", Text: "Sunday", Typed: true}},
		OnTracks:   []templates.Option{{Value: "3", Text: "Track 1", Typed: true}, {Value: "4", Text: "Upper track", Typed: true}},
		Sums: []templates.SequenceSum{
			{Name: "In use", Box: "18", Track: "10", Wait: "0", Late: "0", Beyond: "33", Total: "358"},
			{Name: "The proposal", Box: "9", Track: "10", Wait: "0", Late: "0", Beyond: "24", Total: "259"},
		},
		Sentence: "The proposal saves 99 min of your order. No order that keeps what is asked for costs less. A minute past the curfew, or after a fixed start, counts as ten.",
		Clashes:  []string{"Saturday evening ends 24 min past its curfew, at 22:24. Take a class out, give it another session, or begin earlier."},
		Proposal: []templates.SequenceSession{{ID: "1", Name: "Saturday evening", Classes: better}},
		Use:      form("#"), UseTyped: form("#"), Hours: true,
	}
}

// misread is the same with a time that is none.
func misread() templates.Sequence {
	p := ordering()
	p.Notice = "Something that was typed is not understood; it is said at its field."
	p.Sums, p.Proposal, p.Clashes, p.Use, p.UseTyped = nil, nil, nil, nil, nil
	p.Form.Values["slab"], p.Form.Errors = "half", map[string]string{"slab": `"half" is no time. Write minutes from 0 to 240, such as 5.`}
	return p
}
