package doc_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// withPoints is a class of one round that gives 10, 9, 8 for the places, 5 for the hook and money: 41 is a guest and wins,
// 12 and 23 tie, 7 is disqualified.
func withPoints(t require.TestingT) *tale {
	s := newTale(t, withReward(t, "false", `"points": {"places": [10], "step": 1, "hook": 5}, "purse": {"prizes": [150, 110]}`))
	for _, number := range []string{"41", "12", "23", "38", "7"} {
		s.enter(number, "P. "+number, "", "")
	}
	s.steps("draw dice 4 2 6")
	s.do(domain.Attend{Entries: []domain.Attended{{Entry: s.entry("41"), Attendance: domain.Attendance{Guest: true, Came: true, Fee: 2000, Paid: true}}}})
	s.steps("set")
	figures := map[string]string{"41": "290", "12": "280", "23": "270", "38": "270", "7": "DQ out of bounds"}
	for s.class.OnTrack() != nil {
		s.steps(figures[s.class.Entry(s.class.OnTrack().Entry).Number])
	}
	return s
}

// Points are in both files once the class is decided, and money in neither.
func TestPointsInAFile(t *testing.T) {
	t.Parallel()
	s := withPoints(t)
	fits(t, resultSchema(t), exported(t, s.told()))
	tellsOf(t, s)
	second, first := 2, 1
	points := map[string]*doc.ResultPoints{}
	for _, placed := range s.told().Classes[0].Standing {
		points[placed.Entry] = placed.Points
	}
	assert.Equal(t, &doc.ResultPoints{Total: "0", ForPlace: "0", ForShowUp: "0", ForHook: "0", ForRegistration: "0", Why: "guest"}, points["41"])
	assert.Equal(t, &doc.ResultPoints{Total: "15", Place: &first, ForPlace: "10", ForShowUp: "0", ForHook: "5", ForRegistration: "0"}, points["12"])
	assert.Equal(t, &doc.ResultPoints{Total: "13.5", Place: &second, ForPlace: "8.5", ForShowUp: "0", ForHook: "5", ForRegistration: "0"}, points["23"])
	assert.Equal(t, &doc.ResultPoints{Total: "5", ForPlace: "0", ForShowUp: "0", ForHook: "5", ForRegistration: "0", Why: "disqualified"}, points["7"])

	read := records(t, csvOf(t, s.told()))
	column := columnsOf(read)
	for _, record := range read[1:] {
		p := points[record[column["entry"]]]
		assert.Equal(t, []string{p.Total, p.ForPlace, p.ForHook, p.Why},
			[]string{record[column["points"]], record[column["for_place"]], record[column["for_hook"]], record[column["points_why"]]})
	}
	for _, money := range []string{"150.00", "20.00", "fee", "paid"} {
		assert.NotContains(t, string(exported(t, s.told()))+csvOf(t, s.told()), money, "what was paid is nobody else's business")
	}
}

// Before the class is decided, and where the rules give none, there are no points.
func TestNoPointsBeforeTheEnd(t *testing.T) {
	t.Parallel()
	begun := newTale(t, withReward(t, "false", `"points": {"places": [10]}`)).drawn("41", "7").steps("set", "281.36")
	money := newTale(t, withReward(t, "false", `"purse": {"prizes": [150]}`)).drawn("41").steps("set", "281.36")
	require.Equal(t, domain.Decided, money.class.Phase())
	for _, s := range []*tale{begun, money, wholeClass(t)} {
		for _, placed := range s.told().Classes[0].Standing {
			assert.Nil(t, placed.Points)
		}
	}
}
