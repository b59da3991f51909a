package domain_test

import (
	"fmt"
	"testing"

	"clayline/domain"
)

// BenchmarkRank ranks a class of 1,000 over three rounds.
func BenchmarkRank(b *testing.B) {
	line, err := domain.ParseDistance("300", domain.Foot)
	if err != nil {
		b.Fatal(err)
	}
	table := domain.Table{
		Rules:  domain.RuleSet{Line: line, Capped: true, Rounds: 2, Count: domain.BestOf, PullOff: domain.PullOffRule{Absent: domain.LastOfPullOff}},
		Rounds: []domain.RoundName{{Number: 1}, {Number: 2}, {PullOff: true, Number: 1}},
	}
	for i := range 1000 {
		row := domain.Row{Number: fmt.Sprint(i)}
		for round := range 3 {
			d, err := domain.ParseDistance(fmt.Sprintf("%d.%02d", 120+(i*7919+round*31)%200, i%100), domain.Foot)
			if err != nil {
				b.Fatal(err)
			}
			row.Results = append(row.Results, domain.Result{Outcome: domain.Measured, Distance: d})
		}
		table.Rows = append(table.Rows, row)
	}
	b.ReportAllocs()
	for b.Loop() {
		domain.Rank(table)
	}
}
