package domain_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// looked is when somebody looked at a sled.
var looked = time.Date(2026, 9, 19, 16, 0, 0, 0, time.UTC)

// inspected is an inspection of the sled of [pulled], whose list has three points.
func inspected(points ...domain.Inspected) (domain.Event, error) {
	e, used := pulled()
	e.Sleds[0].Card.Inspection = []string{"brakes", "kill switch", "radio"}
	return domain.DecideEvent(e, domain.InspectSled{Inspection: uuid.UUID{7}, Sled: uuid.UUID{5}, By: "Ada Flagg", Points: points}, used, looked)
}

// An inspection has every point of the list in its order, those that nobody looked at too. It is kept beside earlier ones.
func TestAnInspectionGoesThroughTheList(t *testing.T) {
	t.Parallel()
	e, err := inspected(domain.Inspected{Point: "kill switch", State: domain.PointNotOK, Note: " cable frayed "}, domain.Inspected{Point: "brakes", State: domain.PointOK, Note: "new pads"})
	require.NoError(t, err)
	want := domain.Inspection{ID: uuid.UUID{7}, Sled: uuid.UUID{5}, At: looked, By: "Ada Flagg", Points: []domain.Inspected{
		{Point: "brakes", State: domain.PointOK, Note: "new pads"}, {Point: "kill switch", State: domain.PointNotOK, Note: "cable frayed"}, {Point: "radio"},
	}}
	require.Equal(t, []domain.Inspection{want}, e.Inspections)
	assert.Equal(t, want.Points[1:2], want.Wrong())
	again, err := domain.DecideEvent(e, domain.InspectSled{Inspection: uuid.UUID{8}, Sled: uuid.UUID{5}, By: "B. Holm", Points: []domain.Inspected{{Point: "radio", State: domain.PointOK}}}, nil, looked)
	require.NoError(t, err)
	assert.Len(t, again.Inspections, 2)
	assert.Len(t, e.Inspections, 1, "the event before is as it was")
	assert.Empty(t, again.Inspections[1].Wrong())
}

func TestWhatIsNoInspectionIsRefused(t *testing.T) {
	t.Parallel()
	ok := domain.Inspected{Point: "brakes", State: domain.PointOK}
	for what, c := range map[string]struct {
		points []domain.Inspected
		field  string
	}{
		"nothing":                    {nil, "points"},
		"nothing looked at":          {[]domain.Inspected{{Point: "brakes", Note: "dark"}}, "points"},
		"a point that is on no list": {[]domain.Inspected{ok, {Point: "horn", State: domain.PointOK}}, "points[1].point"},
		"a point twice":              {[]domain.Inspected{ok, ok}, "points[1].point"},
		"not ok, and no word why":    {[]domain.Inspected{{Point: "radio", State: domain.PointNotOK}}, "points[0].note"},
		"a note in two lines":        {[]domain.Inspected{{Point: "radio", State: domain.PointOK, Note: "a\nb"}}, "points[0].note"},
		"a state that there is not":  {[]domain.Inspected{{Point: "radio", State: 9}}, "points[0].state"},
	} {
		_, err := inspected(c.points...)
		assert.Equal(t, domain.Invalid, domain.KindOf(err), "%s: %v", what, err)
		assert.Equal(t, c.field, refusedAt(err), what)
	}
	e, _ := pulled()
	_, err := domain.DecideEvent(e, domain.InspectSled{Sled: uuid.UUID{99}, Points: []domain.Inspected{ok}}, nil, looked)
	assert.Equal(t, domain.NotFound, domain.KindOf(err))
	_, err = domain.SignInspection(domain.InspectSled{}, " ")
	assert.Equal(t, "by", refusedAt(err))
	signed, err := domain.SignInspection(domain.InspectSled{}, " Ada Flagg ")
	require.NoError(t, err)
	assert.Equal(t, "Ada Flagg", signed.By)
	assert.Equal(t, domain.Desk|domain.Cab, domain.KindOfEventAction(signed).Roles, "the crew of the sled looks")
	assert.Equal(t, domain.Desk, domain.KindOfEventAction(domain.DescribeSled{}).Roles)
}

// The usual list is common practice, no published source; a description may have another.
func TestTheListOfAnInspection(t *testing.T) {
	t.Parallel()
	usual := domain.Sled{}.InspectionList()
	assert.Contains(t, usual, "wheel brakes hold")
	assert.Contains(t, usual, "fire extinguisher full and in reach")
	own := domain.Sled{Name: "Grey", Gears: 1, StartHoles: 1, Card: domain.SledCard{Inspection: []string{"brakes", "radio"}}}
	require.NoError(t, own.Check())
	assert.Equal(t, []string{"brakes", "radio"}, own.InspectionList())
	usualSled := domain.Sled{Name: "Grey", Gears: 1, StartHoles: 1, Card: domain.SledCard{Inspection: usual}}
	require.NoError(t, usualSled.Check(), "the usual list may be written into a description")
	own.Card.Inspection = []string{"brakes", "brakes"}
	assert.Equal(t, "inspection", refusedAt(own.Check()))
	own.Card.Inspection = []string{" "}
	assert.Equal(t, "inspection", refusedAt(own.Check()))
}

func TestTheStateOfAPointIsReadAndWritten(t *testing.T) {
	t.Parallel()
	for _, s := range []domain.PointState{domain.NotLookedAt, domain.PointOK, domain.PointNotOK} {
		text, err := s.MarshalText()
		require.NoError(t, err)
		var read domain.PointState
		require.NoError(t, read.UnmarshalText(text))
		assert.Equal(t, s, read)
	}
	none, err := domain.ParsePointState("")
	require.NoError(t, err)
	assert.Equal(t, domain.NotLookedAt, none)
	_, err = domain.ParsePointState("fine")
	assert.ErrorContains(t, err, "write ok, not ok or not looked at")
	assert.Empty(t, domain.PointState(9).String())
}
