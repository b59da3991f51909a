package webui

import (
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// twoWeights tells of a class whose sled has slabs of two weights.
func twoWeights(t *testing.T) *domain.Class {
	t.Helper()
	c := tell(t, "capped-300ft", "draw")
	c.Sled.Card.Slabs = domain.SlabRoom{Kinds: []domain.SlabKind{{Weight: weighs(t, "1800 lb"), Count: 20}, {Weight: weighs(t, "900 lb"), Count: 4}}, Left: 8, Middle: 2, Right: 8}
	return c
}

func weighs(t *testing.T, text string) domain.Weight {
	t.Helper()
	w, err := domain.ParseWeight(text)
	require.NoError(t, err)
	return w
}

// typedSlabs is a setting form with these counts; the rest of it is as it should be.
func typedSlabs(c *domain.Class, counts map[string]string) url.Values {
	values := url.Values{fieldRound: {c.Current().ID.String()}, "gear": {"3"}, "hole": {"2"}, "trip": {"198"}}
	for field, n := range counts {
		values.Set(field, n)
	}
	return values
}

func TestTheFormAsksForEachWeightOfSlabs(t *testing.T) {
	t.Parallel()
	c := twoWeights(t)
	assert.Equal(t, []templates.SlabKind{
		{Weight: "1,800 lb", Hint: "There are 20 of 1,800 lb.", Left: "left", Middle: "middle", Right: "right"},
		{Weight: "900 lb", Hint: "There are 4 of 900 lb.", Left: "left2", Middle: "middle2", Right: "right2"},
	}, slabKinds(c))
	assert.Subset(t, settingFieldsOf(c), []string{"left", "left2", "middle2", "right2"})
	a, err := settingAct(c, typedSlabs(c, map[string]string{"left": "6", "right": "5", "middle2": "1", "right2": "2"}))
	require.NoError(t, err)
	draft, ok := a.(domain.DraftSetting)
	require.True(t, ok)
	assert.Equal(t, "1,800 lb: 6 left, 5 right; 900 lb: 1 middle, 2 right", draft.Setting.Piles.String())

	on, err := draft.Setting.On(c.Sled)
	require.NoError(t, err)
	values := settingValues(c, on)
	assert.Equal(t, []string{"6", "0", "5", "0", "1", "2"}, []string{values["left"], values["middle"], values["right"], values["left2"], values["middle2"], values["right2"]})
	assert.NotContains(t, values, templates.FieldBox, "what is computed is not typed")
	_, err = settingAct(c, typedSlabs(c, map[string]string{"left2": "two"}))
	var wrong *domain.Error
	require.ErrorAs(t, err, &wrong)
	assert.Equal(t, "left2", wrong.Field)
}

func TestTheBoxInATable(t *testing.T) {
	t.Parallel()
	c := twoWeights(t)
	view := typedBox(c, typedSlabs(c, map[string]string{"left": "6", "right": "5", "right2": "1"}))
	require.NotNil(t, view)
	assert.Equal(t, []templates.BoxRow{
		{Place: "left", Slabs: "6 of 8", Which: "6 of 1,800 lb", Weight: "10,800 lb"}, {Place: "middle", Slabs: "0 of 2"},
		{Place: "right", Slabs: "6 of 8", Which: "5 of 1,800 lb, 1 of 900 lb", Weight: "9,900 lb"},
	}, view.Rows)
	assert.Equal(t, templates.BoxRow{Place: "all", Slabs: "12", Weight: "20,700 lb"}, view.Total)
	assert.Contains(t, view.Picture, "left has 900 lb more than right")

	crowded := typedBox(c, typedSlabs(c, map[string]string{"left": "13"}))
	require.NotNil(t, crowded, "what is refused is drawn all the same")
	assert.Equal(t, "13 of 8", crowded.Rows[0].Slabs)
	assert.Nil(t, typedBox(c, typedSlabs(c, map[string]string{"left": "many"})))
	assert.Nil(t, typedBox(c, typedSlabs(c, nil)), "nothing lies in the box")
}

func TestSidesInWords(t *testing.T) {
	t.Parallel()
	for says, s := range map[string]domain.Slabs{
		"left and right the same": {Left: 4, Middle: 2, Right: 4}, "left has 2 more than right": {Left: 6, Right: 4}, "right has 1 more than left": {Right: 1},
	} {
		assert.Equal(t, says, balance(domain.Setting{Slabs: s}.Load(domain.SledCard{})))
	}
}

// A setting in the address fills the form; nothing is stored or frozen by it.
func TestTheAddressFillsTheSettingForm(t *testing.T) {
	t.Parallel()
	c := twoWeights(t)
	piles, err := domain.ParsePiles("1800 lb: 4 left, 5 right; 900 lb: 2 left")
	require.NoError(t, err)
	s, err := domain.Setting{Piles: piles, Gear: 2, StartHole: 1, Trip: (&tale{t: t}).setting().Trip, Note: "wet & dark"}.On(c.Sled)
	require.NoError(t, err)
	page := desk.ClassPage{Event: domain.Event{Slug: "tarn-hollow"}, Class: *c}
	address, err := url.Parse(settingFill(page, s))
	require.NoError(t, err)
	assert.True(t, strings.HasSuffix(address.Path, "/desk") && address.Fragment == "write", address)

	view := deskSetting(page, "/x/desk/", nil, address.Query())
	assert.Equal(t, "Filled in and not stored.", view.Filled)
	assert.False(t, view.Write.Refused())
	assert.Equal(t, settingValues(c, s), view.Write.Values)
	require.NotNil(t, view.Box)
	assert.Equal(t, "11", view.Box.Total.Slabs)

	query := address.Query()
	query.Set("left", "9")
	view = deskSetting(page, "/x/desk/", nil, query)
	assert.Contains(t, view.Write.Error("left"), "room for 8 slabs on the left", "said before anything is sent")
	assert.Equal(t, "9", view.Write.Value("left"))
	assert.Empty(t, deskSetting(page, "/x/desk/", nil, url.Values{"stored": {"7"}}).Filled)

	frozen := tell(t, "capped-300ft", "draw", "write", "freeze")
	view = deskSetting(desk.ClassPage{Class: *frozen}, "/x/desk/", nil, address.Query())
	assert.Nil(t, view.Write)
	assert.Empty(t, view.Filled, "what is frozen is not filled")
}
