package draw_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain/draw"
)

// What cannot be meant is refused with a sentence that says what to change, whatever the seed is.
func TestRulesThatCannotBeMeantAreRefused(t *testing.T) {
	t.Parallel()
	labels := strings.Fields("41 7 23")
	for message, c := range map[string]struct {
		labels []string
		rules  draw.Rules
	}{
		"labels: nobody is entered; enter somebody first":                                               {labels: []string{}},
		"labels: an entry has no number; write the number of the vehicle":                               {labels: []string{"41", " "}},
		"labels: 41 is entered twice; leave one out, or add a letter to it":                             {labels: []string{"41", "41"}},
		"labels: 201 entries are more than the 200 that can be drawn at once; draw them in two classes": {labels: numbered(201)},
		"groups: a group names nobody; name the entries that are to be apart, or leave the group out":   {rules: draw.Rules{Groups: []draw.Group{{Between: 3}}}},
		"groups: 201 groups are more than the 200 there can be; put each driver in one group":           {rules: draw.Rules{Groups: make([]draw.Group, 201)}},
		"groups: -1 hooks between two of a group cannot be; write 0 to 20":                              {rules: draw.Rules{Groups: []draw.Group{{Members: []int{0}, Between: -1}}}},
		"groups: 21 hooks between two of a group cannot be; write 0 to 20":                              {rules: draw.Rules{Groups: []draw.Group{{Members: []int{0}, Between: 21}}}},
		"groups: it names somebody who is not entered; enter the number first, or correct it":           {rules: draw.Rules{Groups: []draw.Group{{Members: []int{0, 3}}}}},
		"groups: 7 is named twice; name it once":                                                        {rules: draw.Rules{Groups: []draw.Group{{Members: []int{1, 1}}}}},
		"late: 7 is named twice; name it once":                                                          {rules: draw.Rules{Late: []int{1, 1}}},
		"fixed: 7 is named twice; name it once":                                                         {rules: draw.Rules{Fixed: []draw.Fixed{{1, 1}, {1, 2}}}},
		"fixed: it names somebody who is not entered; enter the number first, or correct it":            {rules: draw.Rules{Fixed: []draw.Fixed{{-1, 1}}}},
		"fixed: 7 is late and has a fixed place; a late entry hooks last; take one of the two away":     {rules: draw.Rules{Late: []int{1}, Fixed: []draw.Fixed{{1, 1}}}},
		"fixed: 7 cannot have place 4; give a place from 1 to 3":                                        {rules: draw.Rules{Fixed: []draw.Fixed{{1, 4}}}},
		"fixed: 7 cannot have place 0; give a place from 1 to 3":                                        {rules: draw.Rules{Fixed: []draw.Fixed{{1, 0}}}},
		"fixed: 7 cannot have place 3; give a place from 1 to 2":                                        {rules: draw.Rules{Late: []int{0}, Fixed: []draw.Fixed{{1, 3}}}},
		"fixed: 7 and 23 are both on place 1; give one of them another place":                           {rules: draw.Rules{Fixed: []draw.Fixed{{1, 1}, {2, 1}}}},
	} {
		if c.labels == nil {
			c.labels = labels
		}
		_, err := draw.Draw("dice", c.labels, c.rules)
		var problem *draw.Problem
		require.ErrorAs(t, err, &problem, message)
		assert.Equal(t, message, problem.Field+": "+problem.Error())
	}
	_, err := draw.Draw(" \t", labels, draw.Rules{})
	assert.EqualError(t, err, "the seed is missing; type words or dice that nobody could choose")
}

func TestHowFarApartTwoHook(t *testing.T) {
	t.Parallel()
	order := []int{3, 0, 4, 1, 2}
	assert.Equal(t, 1, draw.Nearest(order, []int{0, 1}))
	assert.Equal(t, 2, draw.Nearest(order, []int{3, 1}))
	assert.Equal(t, 0, draw.Nearest(order, []int{3, 1, 2}), "the nearest two count")
	assert.Equal(t, draw.MaxLabels, draw.Nearest(order, []int{3}))
	assert.True(t, draw.Apart(order, []int{0, 1}, 1))
	assert.False(t, draw.Apart(order, []int{0, 1}, 2))
}

// Two who were fixed too near keep their places; the distance of their group gives way.
func TestFixedPlacesStand(t *testing.T) {
	t.Parallel()
	labels := numbered(7)
	drawn, err := draw.Draw("dice", labels, draw.Rules{
		Groups: []draw.Group{{Members: []int{0, 1}, Between: 3}, {Members: []int{2, 3}, Between: 3}}, Fixed: []draw.Fixed{{0, 2}, {1, 4}},
	})
	require.NoError(t, err)
	assert.Equal(t, []int{1, 3}, drawn.Kept)
	assert.Equal(t, []bool{true, false}, drawn.Proven)
	assert.Equal(t, []string{"1", "2"}, []string{labels[drawn.Order[1]], labels[drawn.Order[3]]})
}

// The commitment of docs/draw.md is what `printf '%s' 'grey heron 9f2c41d07be3' | sha256sum` prints.
func TestACommitmentBindsItsText(t *testing.T) {
	t.Parallel()
	const text, hash = "grey heron 9f2c41d07be3", "877dd08dfac46f0cc9f56745547bca9a35b2bea683c7de0e146a96c2b7109cbd"
	made, err := draw.Commit("  grey  heron 9f2c41d07be3\n")
	require.NoError(t, err)
	assert.Equal(t, hash, made)
	seed, err := draw.Seed(" dice 4  2 6", text, hash)
	require.NoError(t, err)
	assert.Equal(t, "dice 4 2 6|grey heron 9f2c41d07be3", seed)
	seed, err = draw.Seed("dice 4 2 6", " ", "")
	require.NoError(t, err)
	assert.Equal(t, "dice 4 2 6", seed, "without a commitment, the public text alone")
	read, err := draw.ReadCommitment(" " + strings.ToUpper(hash))
	require.NoError(t, err)
	assert.Equal(t, hash, read)
	for _, c := range []struct{ public, reveal, commitment, message string }{
		{"", text, hash, "the seed is missing; type words or dice that nobody could choose"},
		{"dice", "", hash, "the secret text of the commitment is missing; type the text that was committed to"},
		{"dice", text, "", "no commitment was published to the secret text; leave the secret text out, or publish its commitment and draw later"},
		{"dice", "Grey heron 9f2c41d07be3", hash, "the secret text is not the one that was committed to; type it exactly as it was when the commitment was made; letters and case count"},
		{"dice", "grey heron", hash, "the secret text has fewer than 16 characters and could be guessed; add random letters and figures to it"},
	} {
		_, err := draw.Seed(c.public, c.reveal, c.commitment)
		assert.EqualError(t, err, c.message)
	}
	for _, wrong := range []string{"", "877d", hash[1:] + "g", hash + "00"} {
		_, err := draw.ReadCommitment(wrong)
		assert.EqualError(t, err, "a commitment has 64 figures, 0 to 9 and a to f; copy all of it; clayline draw commit makes one", wrong)
	}
}

// Another text has another commitment, and the seed changes with either part.
func TestNeitherSideAloneMakesTheSeed(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		texts := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z]{4} [a-z0-9]{12}`), 2, 2, rapid.ID[string]).Draw(t, "texts")
		publics := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z0-9]{1,8}`), 2, 2, rapid.ID[string]).Draw(t, "public texts")
		hash, err := draw.Commit(texts[0])
		require.NoError(t, err)
		_, err = draw.Seed(publics[0], texts[1], hash)
		require.Error(t, err)
		one, err := draw.Seed(publics[0], texts[0], hash)
		require.NoError(t, err)
		other, err := draw.Seed(publics[1], texts[0], hash)
		require.NoError(t, err)
		require.NotEqual(t, one, other)
	})
}
