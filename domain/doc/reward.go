package doc

import (
	"strconv"

	"clayline/domain"
)

// PointsOf is what an entry earned, in its parts; parts of 0 are left out. Why says what took the place of the points of
// the place, and Place the place as it counted, which differs from the standing behind guests. A win under NATPA is
//
//	{"total": "15", "place": 1, "for_place": "10", "for_hook": "5"}
type PointsOf struct {
	Total           string `json:"total"`
	Place           int    `json:"place,omitempty"`
	ForPlace        string `json:"for_place,omitempty"`
	ForShowUp       string `json:"for_show_up,omitempty"`
	ForHook         string `json:"for_hook,omitempty"`
	ForRegistration string `json:"for_registration,omitempty"`
	Why             string `json:"why,omitempty"`
}

// PurseOf is the money of a class: Paid and Kept make up Total.
type PurseOf struct {
	Total string `json:"total"`
	Paid  string `json:"paid"`
	Kept  string `json:"kept"`
}

// competitors returns what points and purse need to know of each entry, in the order of [Sheet.entries].
func (s Sheet) competitors(table domain.Table, entries []Placed) []domain.Competitor {
	came := make(map[string]Attendance, len(s.Entries))
	for _, a := range s.Entries {
		came[a.Entry] = a
	}
	competitors := make([]domain.Competitor, len(entries))
	for i, e := range entries {
		c := table.Competitor(table.Rows[i])
		if a, listed := came[e.Entry]; listed {
			c.Guest, c.Present, c.Paid, c.Late, c.Fee = a.Guest, a.Present, a.Paid, a.Late, a.Fee
		}
		competitors[i] = c
	}
	return competitors
}

// reward writes points and money to the entries and returns the purse; nothing where the rules have neither.
func (s Sheet) reward(table domain.Table, standing []domain.Placing, entries []Placed) *PurseOf {
	competitors := s.competitors(table, entries)
	if s.Rules.Points.Given() {
		for i, e := range s.Rules.Points.Earn(standing, competitors, s.Ending) {
			entries[i].Points = &PointsOf{Total: e.Total().String(), Place: e.Place, ForPlace: part(e.ForPlace), ForShowUp: part(e.ForShowUp),
				ForHook: part(e.ForHook), ForRegistration: part(e.ForRegistration), Why: e.Why}
		}
	}
	if !s.Rules.Purse.Given() {
		return nil
	}
	paid := s.Rules.Purse.Pay(standing, table.Rows, competitors, s.Ending)
	for i, amount := range paid.Paid {
		entries[i].Purse = amount.String()
	}
	return &PurseOf{Total: paid.Purse.String(), Paid: (paid.Purse - paid.Kept).String(), Kept: paid.Kept.String()}
}

// part writes a part of the points, "" for none.
func part(p domain.Points) string { return either(p == 0, "", p.String()) }

// hasPoints reports whether the rules gave points.
func (s Scored) hasPoints() bool { return len(s.Standing) > 0 && s.Standing[0].Points != nil }

// rewardHeader names the columns of points and purse in CSV.
func (s Scored) rewardHeader() (header []string) {
	if s.hasPoints() {
		header = append(header, "points", "points_place", "for_place", "for_show_up", "for_hook", "for_registration", "points_why")
	}
	if s.Purse != nil {
		header = append(header, "purse")
	}
	return header
}

// rewardCells returns what stands in those columns.
func (s Scored) rewardCells(p Placed) (cells []string) {
	if e := p.Points; s.hasPoints() {
		cells = append(cells, e.Total, either(e.Place == 0, "", strconv.Itoa(e.Place)), e.ForPlace, e.ForShowUp, e.ForHook, e.ForRegistration, e.Why)
	}
	if s.Purse != nil {
		cells = append(cells, p.Purse)
	}
	return cells
}

// rewardTitles heads the columns of points and purse in the table for people.
func (s Scored) rewardTitles() string {
	return either(s.hasPoints(), "points\t", "") + either(s.Purse != nil, "purse\t", "")
}

// rewardTexts returns what stands in those columns. Who is paid nothing has a dash there, so that a short list of money
// stands out.
func (s Scored) rewardTexts(p Placed) (cells []string) {
	if s.hasPoints() {
		cells = append(cells, p.Points.Total)
	}
	if s.Purse != nil {
		cells = append(cells, either(p.Purse == domain.Money(0).String(), "-", p.Purse))
	}
	return cells
}
