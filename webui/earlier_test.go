package webui

import (
	"net/url"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// lastYear is a class that was pulled a year before, with an event of its own.
func lastYear(t *testing.T, steps ...string) desk.EarlierClass {
	t.Helper()
	c := tell(t, "capped-300ft", begun(steps...)...)
	return desk.EarlierClass{Class: *c, Event: domain.Event{
		Slug: "spring-pull", Name: "Spring Pull", Zone: "America/Chicago", Tracks: []domain.Track{{ID: c.Track, Name: "Track 1"}},
		Sessions: []domain.Session{{ID: c.Session, Name: "Evening", Starts: time.Date(2025, 9, 20, 1, 30, 0, 0, time.UTC)}},
	}}
}

func TestAnEarlierDayInLines(t *testing.T) {
	t.Parallel()
	drawn := tell(t, "capped-300ft", "draw")
	page := desk.ClassPage{Event: domain.Event{Slug: "tarn-hollow"}, Class: *drawn}
	day := earlierDay(page, lastYear(t, "263.10", "keep", "FP"), true)
	assert.Equal(t, "19 September 2025", day.Date, "on the day at the place, which is a day later elsewhere")
	assert.Equal(t, "Spring Pull", day.Event)
	assert.Equal(t, "/e/spring-pull/"+drawn.Slug, day.Class.Href)
	require.Len(t, day.Settings, 1)
	s := day.Settings[0]
	assert.Equal(t, []string{"Round 1", "Setting 1"}, []string{s.Round, s.Name})
	assert.Equal(t, []string{"2 hooks", "1 full pull", "best 263.10 ft", "distances 263.10 to 263.10 ft, median 263.10 ft"}, s.Went)
	address, err := url.Parse(s.Use)
	require.NoError(t, err)
	assert.Equal(t, "/e/tarn-hollow/"+drawn.Slug+"/desk", address.Path)
	view := deskSetting(page, "", nil, address.Query())
	assert.Equal(t, settingValues(drawn, (&tale{t: t}).setting()), view.Write.Values)
	assert.Empty(t, earlierDay(page, lastYear(t), false).Settings[0].Use)

	drafted := lastYear(t, "263.10", "keep")
	drafted.Class.Rounds[0].Revisions[0].Frozen = time.Time{}
	assert.Empty(t, earlierDay(page, drafted, true).Settings, "a draft is nobody's setting yet")
}

func TestHowItWentInWords(t *testing.T) {
	t.Parallel()
	assert.Equal(t, []string{"no hook counts"}, went(domain.Spread{}))
	top, err := domain.ParseSpeed("18.4 mph")
	require.NoError(t, err)
	assert.Equal(t, []string{"1 hook", "0 full pulls", "1 disqualified", "top speed 18.4 mph"}, went(domain.Spread{Hooks: 1, Disqualified: 1, Top: top}))
}

func TestWhyNothingIsFilledIn(t *testing.T) {
	t.Parallel()
	office, cab := desk.By{Role: domain.Desk}, desk.By{Role: domain.Cab}
	of := func(steps ...string) desk.ClassPage {
		return desk.ClassPage{Class: *tell(t, "capped-300ft", steps...)}
	}
	assert.Empty(t, whyNotFilled(office, of("draw")))
	assert.Contains(t, whyNotFilled(cab, of("draw")), "The desk writes the setting")
	assert.Contains(t, whyNotFilled(office, of()), "once the class is drawn")
	assert.Contains(t, whyNotFilled(office, of("draw", "write", "freeze")), "No setting can be written now")
}

// A setting of another sled brings its weight where this sled has no such slabs, and no speed limit of its rules.
func TestASettingOfAnotherSled(t *testing.T) {
	t.Parallel()
	c := twoWeights(t)
	piles, err := domain.ParsePiles("2000 lb: 5 left, 5 right")
	require.NoError(t, err)
	other := domain.Setting{Box: weighs(t, "20000 lb"), Slabs: piles.Slabs(), Piles: piles, Gear: 2, StartHole: 1, Trip: (&tale{t: t}).setting().Trip}
	other.SpeedLimit, err = domain.ParseSpeed("3.5 mph")
	require.NoError(t, err)
	filled := func(c *domain.Class) url.Values {
		address, err := url.Parse(settingFill(desk.ClassPage{Class: *c}, other))
		require.NoError(t, err)
		return address.Query()
	}
	query := filled(c)
	assert.Equal(t, []string{"20,000 lb", "0", "0"}, []string{query.Get("box"), query.Get("left"), query.Get("right2")})
	assert.Empty(t, query.Get("limit"))
	bare := tell(t, "capped-300ft", "draw")
	query = filled(bare)
	assert.Equal(t, []string{"20,000 lb", "5", "5"}, []string{query.Get("box"), query.Get("left"), query.Get("right")}, "no slabs are described, and they are counted all the same")
}
