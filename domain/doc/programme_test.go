package doc_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// proposed reads a programme and returns its proposal.
func proposed(t require.TestingT, document string) doc.ProgrammeResult {
	p, err := doc.ReadProgramme(strings.NewReader(document))
	require.NoError(t, err, document)
	r, err := p.Propose()
	require.NoError(t, err, document)
	return r
}

// namesIn lists the classes of a proposal.
func namesIn(r doc.ProgrammeResult) []string {
	var names []string
	for _, t := range r.Order {
		names = append(names, t.Class)
	}
	return names
}

// evening is a programme of one session at six with these further fields, in which CLASSES stand.
func evening(classes string, more ...string) string {
	return fmt.Sprintf(`{"sessions": [{"name": "Evening", "starts": "2026-09-19T18:00:00-05:00"}], "classes": [%s]%s}`, classes, strings.Join(append([]string{""}, more...), ", "))
}

// The example of the manual gives the table that stands below it, and every field is explained.
func TestTheManualsProgrammeIsPutInOrder(t *testing.T) {
	t.Parallel()
	page := manual(t, "programme.md")
	r := proposed(t, fenced(page, "json")[0])
	var out bytes.Buffer
	require.NoError(t, r.WriteText(&out))
	assert.Contains(t, fenced(page, "text"), out.String())
	out.Reset()
	require.NoError(t, r.WriteJSON(&out))
	schema, err := doc.ProgrammeSchema()
	require.NoError(t, err)
	for _, name := range regexp.MustCompile(`"([a-z_]+)": [{\[0-9"]`).FindAllStringSubmatch(out.String()+string(schema), -1) {
		if !slices.Contains([]string{"type", "pattern", "description", "title", "items", "properties", "required", "minimum", "maximum", "default"}, name[1]) {
			assert.True(t, strings.Contains(page, "`"+name[1]+"`") || strings.Contains(page, `"`+name[1]+`"`), "%s is not explained", name[1])
		}
	}
}

// By hand: 2 slabs and a gear lie between Antique and Open, 1 + 3 minutes; nobody wrote the setting of Garden, 10 minutes;
// 5 minutes of track each. Antique and Open side by side, with Garden at either end, is 4 + 10 + 10.
func TestTheOrderOfAProgrammeByHand(t *testing.T) {
	t.Parallel()
	const antique = `{"name": "Antique", "hooks": 2, "setting": {"slabs": {"left": 3}, "gear": 2}}`
	const open = `{"name": "Open", "minutes": 30, "setting": {"slabs": {"right": 1, "left": 2}, "gear": 3}}`
	const garden = `{"name": "Garden", "minutes": 20}`
	r := proposed(t, evening(antique+","+garden+","+open))
	assert.InDelta(t, 30.0, r.AsWritten.Total, 1e-9, "Garden between the two")
	assert.InDelta(t, 24.0, r.Cost.Total, 1e-9)
	assert.InDelta(t, 24.0, r.Bound, 1e-9)
	assert.True(t, r.Exact)
	assert.Equal(t, []string{"Antique", "Open", "Garden"}, namesIn(r))
	assert.Equal(t, "2026-09-19T18:19:00-05:00", r.Order[1].Starts, "two hooks of five minutes, and the change")
	assert.Equal(t, "2026-09-19T18:49:00-05:00", r.Order[1].Ends)
	assert.Equal(t, "1 slab out and 1 in, gear 2 to 3", r.Order[1].Change)
	assert.Equal(t, &doc.ProgrammeCost{Box: 6, Total: 6}, r.Order[1].Down, "Garden between the two again")
	assert.Equal(t, &doc.ProgrammeCost{}, r.Order[0].Down)
	assert.Nil(t, r.Order[0].Up)
	assert.Equal(t, []string{"No order that keeps what is asked for costs less."}, r.Notes)
}

// What is asked for is kept, and what cannot be is said.
func TestAProgrammeKeepsWhatIsAskedFor(t *testing.T) {
	t.Parallel()
	two := func(first, second string, more ...string) doc.ProgrammeResult {
		return proposed(t, evening(`{"name": "A", "minutes": 60`+first+`},{"name": "B", "minutes": 60`+second+`}`, more...))
	}
	pinned := two("", `, "place": 1`)
	assert.Equal(t, []string{"B", "A"}, namesIn(pinned))
	assert.Nil(t, pinned.Order[0].Down, "it keeps its place")
	both := two(`, "place": 1`, `, "place": 1`)
	assert.Equal(t, []string{"A", "B"}, namesIn(both))
	assert.Contains(t, both.Notes, "B cannot keep its place together with the others that have one; here it is free.")
	shared := two("", "", `"shared": [{"who": "Maud Farrow", "classes": ["B", "A"]}]`)
	assert.InDelta(t, 5.0, shared.Order[1].Waiting, 1e-9, "20 minutes between, of which 15 are the change")
	late := two(`, "starts": "2026-09-19T18:00:00-05:00"`, `, "starts": "2026-09-19T18:30:00-05:00"`, `"costs": {"late_weight": 2}`)
	assert.Contains(t, late.Notes, "B begins 45 min after its fixed start.")
	assert.InDelta(t, 15+2*45, late.Cost.Total, 1e-9)
	curfew := proposed(t, strings.Replace(evening(`{"name": "A", "minutes": 60}`), `"starts"`, `"curfew": "2026-09-19T18:45:00-05:00", "starts"`, 1))
	assert.Contains(t, curfew.Notes, "Evening ends 15 min past its curfew; take a class out, give it another session, or begin earlier.")
	assert.InDelta(t, 150.0, curfew.Cost.Total, 1e-9, "a minute counts as ten")
	sleds := two(`, "sled": "Long Tom", "setting": {"slabs": {}, "gear": 1}`, `, "setting": {"slabs": {}, "gear": 1}`)
	assert.Equal(t, "another sled", sleds.Order[1].Change)
}

// A class goes into the session where it costs least among those it may be in, and two tracks are put in order together.
func TestAProgrammeOfTwoSessionsAndTracks(t *testing.T) {
	t.Parallel()
	r := proposed(t, `{"tracks": ["Lower", "Upper"],
		"sessions": [{"name": "Noon", "starts": "2026-09-19T12:00:00Z", "curfew": "2026-09-19T13:00:00Z"}, {"name": "Night", "starts": "2026-09-19T19:00:00Z"}],
		"classes": [{"name": "A", "track": "Lower", "minutes": 60, "sessions": ["Noon"]}, {"name": "B", "track": "Lower", "minutes": 30},
			{"name": "C", "track": "Upper", "minutes": 30, "sessions": ["Night", "Noon"]}],
		"shared": [{"who": "Second Chance", "classes": ["B", "C"]}]}`)
	at := make(map[string]string)
	for _, turn := range r.Order {
		at[turn.Class] = turn.Session + " " + turn.Track
	}
	assert.Equal(t, "Noon Lower", at["A"])
	assert.Equal(t, "Night Lower", at["B"], "at noon it would be past the curfew")
	assert.InDelta(t, 0.0, r.Cost.Total, 1e-9)
}

// Each sentence names its field and says what to do. What is replaced stands once in the programme.
func TestAProgrammeThatIsWrongIsRefusedWithItsField(t *testing.T) {
	t.Parallel()
	whole := fenced(manual(t, "programme.md"), "json")[0]
	for _, row := range []struct{ old, with, field, says string }{
		{`"tracks": ["Lower"]`, `"tracks": []`, "tracks", "tracks has too few values; write at least 1"},
		{`"tracks": ["Lower"]`, `"tracks": ["Lower", "Lower"]`, "tracks[1]", `tracks[1] "Lower" stands twice; give each a name of its own`},
		{`"tracks": ["Lower"]`, `"tracks": ["Lower", "Upper"]`, "classes[0].track", "classes[0].track is missing; write a name"},
		{`"tracks": ["Lower"]`, `"track": ["Lower"]`, "track", "track is not known here; write one of tracks, sessions, classes, shared, costs"},
		{`"curfew": "2026-09-19T23`, `"curfew": "2026-09-19T17`, "sessions[0].curfew", "sessions[0].curfew: the curfew is before the session starts; give one after the start, or none"},
		{`"curfew": "2026-09-19T23`, `"curfew": "2027-09-19T23`, "sessions[0].curfew", "sessions[0].curfew is not near the first session; write a time within a day before it and a month after it"},
		{`T23:00:00-05:00`, ` 23:00`, "sessions[0].curfew", `sessions[0].curfew cannot be "2026-09-19 23:00"; write a time with its offset from UTC, such as 2026-09-19T18:00:00-05:00`},
		{`"from": "2026-09-19T19`, `"from": "2026-09-19T17`, "sessions[0].breaks", "sessions[0].breaks: the break begins before the session, or before the one ahead of it is over; give the breaks in their order"},
		{`"minutes": 20`, `"minutes": 0`, "sessions[0].breaks[0].minutes", "sessions[0].breaks[0].minutes cannot be 0; write a number from 1 to 600"},
		{`"name": "Evening", `, ``, "sessions[0].name", "sessions[0].name is missing; write a name"},
		{`"name": "Evening"`, `"name": " "`, "sessions[0].name", "sessions[0].name is empty; write a name"},
		{`"starts": "2026-09-19T18:00:00-05:00", `, ``, "sessions[0].starts", "sessions[0].starts is missing; write a time with its offset from UTC, such as 2026-09-19T18:00:00-05:00"},
		{`"name": "Open"`, `"name": "Open\u001b[31m"`, "classes[1].name", "classes[1].name holds a character that cannot be seen; write it as plain text"},
		{`"name": "Open"`, `"name": "Antique"`, "classes[1].name", `classes[1].name "Antique" stands twice; give each a name of its own`},
		{`"hooks": 9`, `"hooks": 9, "minutes": 30`, "classes[0].minutes", "classes[0].minutes cannot stand beside hooks; keep one of them"},
		{`"hooks": 9, `, ``, "classes[0].hooks", "classes[0].hooks is missing; write how many hooks the class has, or minutes"},
		{`"hooks": 9`, `"hooks": 9.5`, "classes[0].hooks", "classes[0].hooks cannot be 9.5; write a whole number"},
		{`"hooks": 9`, `"hooks": "9"`, "classes[0].hooks", "classes[0].hooks is not a number; write a number from 1 to 1000, without quotes"},
		{`"hooks": 9`, `"hooks": 9, "place": 0`, "classes[0].place", "classes[0].place cannot be 0; write a number from 1 to 60"},
		{`"hooks": 9`, `"hooks": 9, "sessions": ["Morning"]`, "classes[0].sessions[0]", `classes[0].sessions[0] "Morning" is no session of the programme; write Evening`},
		{`"hooks": 9`, `"hooks": 9, "sessions": []`, "classes[0].sessions", "classes[0].sessions has too few values; write at least 1"},
		{`"hooks": 9`, `"hooks": 9, "sled": ""`, "classes[0].sled", "classes[0].sled is empty; write a name"},
		{`"slabs": {"left": 2, "right": 2}, `, ``, "classes[0].setting.slabs", `classes[0].setting.slabs is missing; write how many lie left, middle and right`},
		{`{"left": 2, "right": 2}`, `4`, "classes[0].setting.slabs", "classes[0].setting.slabs is not an object; write its fields between braces"},
		{`"starts": "2026-09-19T20`, `"starts": "2026-09-17T20`, "classes[3].starts", "classes[3].starts is not near the first session; write a time within a day before it and a month after it"},
		{`"who": "Maud Farrow"`, `"who": ""`, "shared[0].who", "shared[0].who is empty; write a name"},
		{`["Antique", "Farm stock"]`, `["Antique", "Farmstock"]`, "shared[0].classes[1]", `shared[0].classes[1] "Farmstock" is no class of the programme; write Antique, Open, Farm stock, Garden`},
		{`["Antique", "Farm stock"]`, `["Antique", "Antique"]`, "shared[0].classes[1]", "shared[0].classes[1] stands twice; keep one of them"},
		{`["Antique", "Farm stock"]`, `["Antique"]`, "shared[0].classes", "shared[0].classes has too few values; write at least 2"},
		{`["Antique", "Farm stock"]`, `[]`, "shared[0].classes", "shared[0].classes has too few values; write at least 2"},
		{`"gear_minutes": 4`, `"gear_minutes": -4`, "costs.gear_minutes", "costs.gear_minutes cannot be -4; write a number from 0 to 600"},
		{`"costs": {`, `"costs": [`, "costs[1]", "costs[1] is not JSON: invalid character ':' after array element; look for a comma, a quote or a brace too many or too few, and for a value that is no number"},
		{`{"gear_minutes": 4}`, strings.Repeat("[", 20) + strings.Repeat("]", 20), "costs[0][0][0][0][0][0][0][0][0][0]", "costs[0][0][0][0][0][0][0][0][0][0] is nested too deep; write it as docs/programme.md has it"},
	} {
		require.Equal(t, 1, strings.Count(whole, row.old), row.old)
		_, err := doc.ReadProgramme(strings.NewReader(strings.Replace(whole, row.old, row.with, 1)))
		refused, ok := errors.AsType[*domain.Error](err)
		if assert.True(t, ok, "%s: %v", row.with, err) {
			assert.Equal(t, row.field, refused.Field)
			assert.Equal(t, row.says, err.Error())
			assert.Equal(t, domain.Invalid, refused.Kind)
		}
	}
}

func TestAProgrammeWithoutWhatItNeedsIsRefused(t *testing.T) {
	t.Parallel()
	const night = `{"name": "Night", "starts": "2026-09-19T12:00:00Z"}`
	for says, document := range map[string]string{
		"the programme is not an object; write its fields between braces":                                                                               `[]`,
		"sessions is missing; write a list; docs/programme.md says what stands in it":                                                                   `{"classes": [{"name": "A", "hooks": 1}]}`,
		"classes is missing; write a list; docs/programme.md says what stands in it":                                                                    `{"sessions": [` + night + `]}`,
		"the programme is larger than 1 MiB; put one day in order at a time":                                                                            strings.Repeat(" ", doc.MaxProgramme+1),
		"sessions[1].name \"Night\" stands twice; give each a name of its own":                                                                          `{"sessions": [` + night + `,` + night + `], "classes": [{"name": "A", "hooks": 1}]}`,
		"sessions[1].starts is before the session ahead of it begins; write the sessions in the order in which they begin":                              `{"sessions": [` + night + `, {"name": "Noon", "starts": "2026-09-19T11:00:00Z"}], "classes": [{"name": "A", "hooks": 1}]}`,
		"the programme is empty; write it as docs/programme.md has it":                                                                                  " \n",
		"classes is not JSON: the document ends too early; look for a comma, a quote or a brace too many or too few, and for a value that is no number": `{"classes"`,
	} {
		_, err := doc.ReadProgramme(strings.NewReader(document))
		assert.EqualError(t, err, says)
	}
}

// Package sequence adds up what orders cost, and what that might overflow is refused: sixty classes, each with a fixed
// start, where a minute late counts as a hundred.
func TestAProgrammeThatCannotBeReckonedWithIsRefused(t *testing.T) {
	t.Parallel()
	var classes []string
	for i := range 60 {
		classes = append(classes, fmt.Sprintf(`{"name": "%d", "minutes": 1440, "starts": "2026-09-19T18:00:00-05:00"}`, i))
	}
	_, err := doc.ReadProgramme(strings.NewReader(evening(strings.Join(classes, ","), `"costs": {"late_weight": 100}`)))
	assert.EqualError(t, err, "classes take longer together than can be reckoned with; put one day in order at a time")
	_, err = doc.ReadProgramme(strings.NewReader(strings.ReplaceAll(evening(strings.Join(classes, ",")), "1440", "60")))
	assert.NoError(t, err)
}

// programmes draws programmes of up to seven classes, as documents.
func programmes() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		type object = map[string]any
		clock := func(hour int) string { return fmt.Sprintf("2026-09-19T%02d:00:00Z", hour) }
		sessions := []object{{"name": "Noon", "starts": clock(12)}}
		if rapid.Bool().Draw(t, "curfew") {
			sessions[0]["curfew"] = clock(13)
		}
		if rapid.Bool().Draw(t, "night") {
			sessions = append(sessions, object{"name": "Night", "starts": clock(19), "breaks": []object{{"from": clock(20), "minutes": 15}}})
		}
		tracks := rapid.SampledFrom([][]string{{"Lower"}, {"Lower", "Upper"}}).Draw(t, "tracks")
		var classes, shared []object
		for i := range rapid.IntRange(1, 7).Draw(t, "classes") {
			c := object{"name": fmt.Sprint("C", i), "track": rapid.SampledFrom(tracks).Draw(t, "track"), "hooks": rapid.IntRange(1, 20).Draw(t, "hooks")}
			if rapid.Bool().Draw(t, "written") {
				c["setting"] = object{"slabs": object{"left": rapid.IntRange(0, 9).Draw(t, "left")}, "gear": rapid.IntRange(1, 3).Draw(t, "gear")}
			}
			if rapid.IntRange(0, 5).Draw(t, "fixed") == 0 {
				c["starts"] = clock(rapid.IntRange(11, 22).Draw(t, "starts"))
			}
			if rapid.IntRange(0, 5).Draw(t, "pinned") == 0 {
				c["place"] = rapid.IntRange(1, 4).Draw(t, "place")
			}
			classes = append(classes, c)
		}
		if len(classes) > 1 && rapid.Bool().Draw(t, "shared") {
			shared = append(shared, object{"who": "Maud Farrow", "classes": []string{"C0", "C1"}})
		}
		document, err := json.Marshal(object{"tracks": tracks, "sessions": sessions, "classes": classes, "shared": shared})
		require.NoError(t, err)
		return string(document)
	})
}

// Whatever the programme: each class stands once, no order is below the bound, the cost is the sum of its parts, a move
// costs nothing less where the proposal is exact, and the same document gives the same proposal.
func TestEveryProgrammeHasAProposal(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		document := programmes().Draw(t, "programme")
		r := proposed(t, document)
		seen := make(map[string]bool)
		var box, track, waiting, late float64
		for _, turn := range r.Order {
			assert.False(t, seen[turn.Class])
			seen[turn.Class] = true
			box, track, waiting, late = box+turn.Box, track+turn.Prepare, waiting+turn.Waiting, late+turn.Late
			for _, move := range []*doc.ProgrammeCost{turn.Up, turn.Down} {
				assert.False(t, r.Exact && move != nil && move.Total < -1e-6, "%s can be moved for less: %v", turn.Class, move)
			}
		}
		assert.Len(t, seen, strings.Count(document, `"hooks"`))
		assert.GreaterOrEqual(t, r.Cost.Total, r.Bound-1e-6)
		assert.InDelta(t, box+track+waiting, r.Cost.Box+r.Cost.Track+r.Cost.Waiting, 1e-6)
		assert.InDelta(t, late, r.Cost.Late, 1e-6)
		assert.InDelta(t, box+track+waiting+10*(late+r.Cost.Past), r.Cost.Total, 1e-6)
		if !strings.Contains(document, `"place"`) {
			assert.LessOrEqual(t, r.Cost.Total, r.AsWritten.Total+1e-6)
		}
		assert.Equal(t, r, proposed(t, document))
	})
}

// FuzzReadProgramme holds that whatever is in a file is read or refused in a sentence, and that what is read has a
// proposal.
func FuzzReadProgramme(f *testing.F) {
	page, err := os.ReadFile(filepath.Join("..", "..", "docs", "programme.md"))
	require.NoError(f, err)
	f.Add(fenced(string(page), "json")[0])
	f.Add(evening(`{"name": "A", "minutes": 60}`))
	f.Add(`{"shared": [{"classes": [""]}]}`)
	f.Add(`{"sessions": [{"name": "N", "starts": "0001-01-01T00:00:00Z"}], "classes": [{"name": "A", "hooks": 1e400}]}`)
	f.Fuzz(func(t *testing.T, document string) {
		p, err := doc.ReadProgramme(strings.NewReader(document))
		if err != nil {
			refused, ok := errors.AsType[*domain.Error](err)
			require.True(t, ok, err)
			assert.NotEmpty(t, refused.Fix)
			return
		}
		if strings.Count(document, "name") > 12 {
			return // a long one is put in order in a while
		}
		_, err = p.Propose()
		assert.NoError(t, err)
	})
}

func TestTheSchemaOfProgrammesIsNotStale(t *testing.T) {
	t.Parallel()
	generated, err := doc.ProgrammeSchema()
	require.NoError(t, err)
	notStale(t, "programme.json", generated)
}

// What the schema and the reader think of the manual's programme is the same, whatever stands at one of its fields.
func TestTheSchemaOfProgrammesAndTheReaderAgree(t *testing.T) {
	t.Parallel()
	generated, err := doc.ProgrammeSchema()
	require.NoError(t, err)
	validator := understood(t, generated).validator
	whole := fenced(manual(t, "programme.md"), "json")[0]
	fits(t, validator, []byte(whole))
	fields := regexp.MustCompile(`"[a-z_]+": ("[^"]*"|[0-9]+|\["Lower"\]|\{"left": 2, "right": 2\}|\{"gear_minutes": 4\})`).FindAllStringIndex(whole, -1)
	require.Greater(t, len(fields), 25)
	refused := 0
	for _, at := range fields {
		field := whole[at[0]:at[1]]
		name, _, _ := strings.Cut(field, ":")
		for _, value := range []string{`""`, `" "`, `"x"`, `0`, `-1`, `1.5`, `100000`, `true`, `[]`, `{}`, `[3]`, `{"lime": 1}`} {
			document := whole[:at[0]] + name + ": " + value + whole[at[1]:]
			decoded, err := jsonschema.UnmarshalJSON(strings.NewReader(document))
			require.NoError(t, err, document)
			_, wrong := doc.ReadProgramme(strings.NewReader(document))
			if wrong != nil {
				refused++
			}
			// That a name is nowhere in the programme, or a class has both its hooks and its minutes, a schema cannot say.
			if wrong == nil || !strings.Contains(wrong.Error(), "of the programme") && !strings.Contains(wrong.Error(), "stands twice") {
				assert.Equal(t, wrong == nil, validator.Validate(decoded) == nil, "%s: %s: %v", name, value, wrong)
			}
		}
	}
	assert.Greater(t, refused, 200)
}

// What a field is said to be when it is left out is what it is.
func TestTheDefaultsOfAProgrammeAreMeant(t *testing.T) {
	t.Parallel()
	generated, err := doc.ProgrammeSchema()
	require.NoError(t, err)
	var s struct {
		Properties struct {
			Costs struct {
				Properties map[string]struct{ Default json.RawMessage }
			}
		}
	}
	require.NoError(t, json.Unmarshal(generated, &s))
	require.Len(t, s.Properties.Costs.Properties, 9)
	classes := `{"name": "A", "hooks": 9, "setting": {"slabs": {"left": 1}, "gear": 1}}, {"name": "B", "hooks": 9, "setting": {"slabs": {}, "gear": 2, "start_hole": 1}},
		{"name": "C", "hooks": 3, "starts": "2026-09-19T18:10:00-05:00"}`
	shared := `"shared": [{"who": "Maud Farrow", "classes": ["A", "B"]}]`
	short := func(document string) string {
		return strings.Replace(document, `"starts"`, `"curfew": "2026-09-19T18:30:00-05:00", "starts"`, 1)
	}
	silent := proposed(t, short(evening(classes, shared)))
	for name, field := range s.Properties.Costs.Properties {
		with := fmt.Sprintf(`"costs": {"%s": %s}`, name, field.Default)
		assert.Equal(t, silent, proposed(t, short(evening(classes, shared, with))), name)
		other := fmt.Sprintf(`"costs": {"%s": 33}`, name)
		assert.NotEqual(t, silent, proposed(t, short(evening(classes, shared, other))), "%s changes something", name)
	}
}
