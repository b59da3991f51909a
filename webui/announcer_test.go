package webui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// What is at stake in words, under rules that make another thing of a full pull.
func TestWhatAFullPullMeansInWords(t *testing.T) {
	t.Parallel()
	set := func(change func(*domain.PullOffRule)) func(*domain.RuleSet) {
		return func(r *domain.RuleSet) { change(&r.PullOff) }
	}
	asItIs := set(func(*domain.PullOffRule) {})
	for _, row := range []struct {
		name  string
		under func(*domain.RuleSet)
		steps []string
		lead  string
		full  string
	}{
		{"the first", asItIs, nil, "Any distance leads now.", "A full pull leads, and comes back for the pull-off with whoever else makes one."},
		{"a leader", asItIs, []string{"281.36", "keep"}, "More than 281.36 ft leads now.", "A full pull leads, and comes back for the pull-off with whoever else makes one."},
		{"one full pull", asItIs, []string{"FP"}, "No distance short of a full pull leads now.", "A full pull comes back for the pull-off with 7 P7, as it stands."},
		{"three", asItIs, []string{"FP", "FP", "FP"}, "No distance short of a full pull leads now.", "A full pull comes back for the pull-off with 7 P7, 12 P12 & 23 P23, as it stands."},
		{"the best three", set(func(p *domain.PullOffRule) { p.Who, p.Top = domain.TopPlaces, 3 }), nil, "Any distance leads now.",
			"A full pull leads. Under these rules the best 3 come back for the pull-off, whatever they pulled."},
		{"nobody comes back", set(func(p *domain.PullOffRule) { p.Who = domain.Nobody }), []string{"FP"}, "No distance short of a full pull leads now.",
			"A full pull shares place 1 with 7 P7; as it stands nobody comes back for it."},
		{"nobody comes back for the first", set(func(p *domain.PullOffRule) { p.Who = domain.Nobody }), nil, "Any distance leads now.", "A full pull leads."},
		{"past the line in the pull-off", asItIs, []string{"FP", "FP", "250", "250", "open", "write", "freeze", "call", "312.44"}, "More than 312.44 ft leads now.", "Past the line the figure counts as it is."},
		{"to the line in the pull-off", set(func(p *domain.PullOffRule) { p.Capped = true }), []string{"FP", "FP", "250", "250", "open", "write", "freeze", "call", "FP"},
			"No distance short of a full pull leads now.", "A full pull comes back for a further pull-off with 7 P7, as it stands."},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			c := &tellUnder(t, row.under, begun(row.steps...)...).class
			stake := c.Stake()
			require.NotNil(t, stake)
			assert.Equal(t, row.lead, leadWords(stake))
			assert.Equal(t, row.full, fullPullWords(c, stake.Full))
		})
	}
	assert.Equal(t, "A full pull makes place 2, as it stands.", fullPullWords(tell(t, "sum-of-two-100m", begun()...), &domain.FullStake{Place: 2}))
}

// What is told of earlier pulls: the entry's own of today, and those of the same name elsewhere, the newest first.
func TestWhatWasPulledHereBefore(t *testing.T) {
	t.Parallel()
	today := tell(t, "capped-300ft", begun("FP", "FP", "DQ side line", "250", "open", "write", "freeze", "call")...)
	last := lastYear(t, "263.10", "keep", "FP 304")
	for i := range last.Class.Entries {
		last.Class.Entries[i].Number = "9" + last.Class.Entries[i].Number // another number was drawn then
	}
	last.Class.Entries[0].Details.Puller = "p7"
	spoken := desk.Spoken{ClassPage: desk.ClassPage{Event: domain.Event{Slug: "tarn-hollow", Place: "Tarn Hollow"}, Class: *today}, Earlier: []desk.EarlierClass{last}}
	list := pullsBefore(spoken, today.Entries[0])
	require.Len(t, list, 2)
	assert.Equal(t, []string{"Full pull", "today", "Round 1 · sled Plumb Bob"}, []string{list[0].Text, list[0].When, list[0].Where})
	assert.Equal(t, []string{"263.10 ft", "19 September 2025", "Round 1 · sled Plumb Bob"}, []string{list[1].Text, list[1].When, list[1].Where})
	assert.Equal(t, "/e/spring-pull/"+last.Class.Slug, list[1].Class.Href)
	assert.Contains(t, foundHow(spoken.Event, today.Entries[0]), "at events in Tarn Hollow, of the newest 8")
	assert.Contains(t, foundHow(domain.Event{}, today.Entries[0]), "no place written")
	assert.Contains(t, foundHow(spoken.Event, domain.Entry{}), "No name was entered")
}
