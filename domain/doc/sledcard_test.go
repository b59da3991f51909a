package doc_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// wholeCard is a description with every field, in feet and in metres.
const wholeCard = `{
  "name": "Slow Anvil", "gears": 2, "start_holes": 2,
  "wheelbase": "7.2 m", "frame_weight": "16,400 lb", "frame_center": "7 ft", "pan_weight": "1,270 kg", "box_weight": "1,500 lb",
  "box_behind": "0' 6\"", "box_stop": "22.5 ft", "holes": ["0 ft", "0' 9.5\""],
  "slabs": {"kinds": [{"weight": "1,800 lb", "count": 10}, {"weight": "900 lb", "count": 2}], "left": 6, "middle": 2, "right": 6, "most": "20,000 lb"},
  "advance": [0.0801, 0.0952],
  "drive": {"tire_turns_per_mile": 510, "axle_ratio": 3.7, "transfer_ratio": 0.22, "sprocket_teeth": 9, "chain": 160, "gears": [0.62, 0.7]},
  "pushdown": {"delay": "2 ft", "ramp": "18 ft", "share": 0.9},
  "trips": ["17 ft", "18 ft"], "devices": ["laser", "tape"], "ready": ["box back", "cable tested"], "inspection": ["brakes", "kill switch"], "light": {"red": ["pan", "kill-switch"]}
}`

func TestADescriptionIsReadAndWrittenBack(t *testing.T) {
	t.Parallel()
	metric := `{"name": "Oak", "gears": 1, "start_holes": 1, "drive": {"chain_pitch": "0' 1.75\""}}`
	for _, document := range []string{wholeCard, metric, `{"name": "Grey sled", "gears": 5, "start_holes": 4}`, `{"name": "Lamp", "gears": 1, "start_holes": 1, "light": {}}`} {
		sled, err := doc.ParseSledCard([]byte(document))
		require.NoError(t, err)
		written, err := doc.WriteSledCard(sled)
		require.NoError(t, err)
		assert.JSONEq(t, document, string(written))
		again, err := doc.ParseSledCard(written)
		require.NoError(t, err)
		assert.Equal(t, sled, again)
	}
	sled, err := doc.ParseSledCard([]byte(wholeCard))
	require.NoError(t, err)
	assert.Equal(t, domain.Driveline{TurnsPerMile: 510, AxleRatio: 3.7, Transfer: 0.22, Teeth: 9, Chain: 160, Gears: []float64{0.62, 0.7}}, sled.Card.Drive)
	assert.Equal(t, "7.2 m", sled.Card.Wheelbase.String(), "in the unit in which it was measured")
	assert.Equal(t, 12, sled.Card.Slabs.Count())
}

// What is wrong is said with its field and its line.
func TestADescriptionThatIsWrong(t *testing.T) {
	t.Parallel()
	for what, c := range map[string]struct {
		old, new string
		field    string
		line     int
	}{
		"a length without a unit":    {`"7.2 m"`, `"7.2"`, "wheelbase", 3},
		"a length that is a number":  {`"7.2 m"`, `7.2`, "wheelbase", 3},
		"a weight without a unit":    {`"1,270 kg"`, `"1270"`, "pan_weight", 3},
		"a field nobody knows":       {`"wheelbase"`, `"weelbase"`, "weelbase", 3},
		"no name":                    {`"name": "Slow Anvil", `, ``, "name", 1},
		"no gears":                   {`"gears": 2, "start`, `"start`, "gears", 1},
		"half a gear":                {`"gears": 2, "start`, `"gears": 2.5, "start`, "gears", 2},
		"a hole without a unit":      {`"0' 9.5\""`, `"9.5"`, "holes[1]", 4},
		"a hole of nothing":          {`"0' 9.5\""`, `null`, "holes[1]", 4},
		"a slab without a weight":    {`{"weight": "900 lb", "count": 2}`, `{"count": 2}`, "slabs.kinds[1].weight", 5},
		"no such slab":               {`"count": 2}`, `"count": 0}`, "slabs.kinds[1].count", 5},
		"a gear that stands still":   {`[0.0801, 0.0952]`, `[0.0801, 0]`, "advance[1]", 6},
		"no such chain":              {`"chain": 160`, `"chain": 7`, "drive.chain", 7},
		"a chain by a rule alone":    {`"chain": 160`, `"chain": 130`, "drive.chain", 7},
		"a chain and its pitch":      {`"chain": 160`, `"chain": 160, "chain_pitch": "2 in"`, "drive.chain", 7},
		"two sizes of a tire":        {`"axle_ratio"`, `"tire_circumference": "10 ft", "axle_ratio"`, "drive.tire_turns_per_mile", 7},
		"more than the whole load":   {`"share": 0.9`, `"share": 1.1`, "pushdown.share", 8},
		"no switch":                  {`"kill-switch"`, `"horn"`, "light.red[1]", 9},
		"a point that says nothing":  {`"box back"`, `" "`, "ready", 9},
		"points without a list":      {`["box back", "cable tested"]`, `"box back"`, "ready", 9},
		"no list of an inspection":   {`["brakes", "kill switch"]`, `{}`, "inspection", 9},
		"a point twice in it":        {`["brakes", "kill switch"]`, `["brakes", "brakes"]`, "inspection", 9},
		"a name that stands twice":   {`"gears": 2, "start`, `"gears": 2, "gears": 2, "start`, "gears", 2},
		"a comma too many":           {`"tape"]`, `"tape",]`, "devices[2]", 9},
		"something behind the brace": {"}\n}", "}\n} {", "", 1},
		"no object":                  {wholeCard, "[]", "", 1},
		"nothing":                    {wholeCard, "", "", 1},
		"too much":                   {`"Slow Anvil"`, `"` + strings.Repeat("x", doc.MaxSledCard) + `"`, "", 1},
	} {
		document := strings.Replace(wholeCard, c.old, c.new, 1)
		_, err := doc.ParseSledCard([]byte(document))
		var e *domain.Error
		require.ErrorAs(t, err, &e, what)
		assert.Equal(t, domain.Invalid, e.Kind, what)
		assert.NotEmpty(t, e.Fix, what)
		assert.Equal(t, c.field, e.Field, "%s: %v", what, err)
		if c.line > 1 {
			assert.Equal(t, c.line, doc.LineOf([]byte(document), e.Field), what)
		}
	}
}

func FuzzSledCard(f *testing.F) {
	for _, seed := range []string{wholeCard, `{"name": "Grey", "gears": 5, "start_holes": 4}`, `{"name": "a", "gears": 1e0, "start_holes": 1, "slabs": {}}`, `[`, `{"holes": [["`} {
		f.Add([]byte(seed), "drive.gears[1]")
	}
	f.Fuzz(func(t *testing.T, document []byte, field string) {
		if line := doc.LineOf(document, field); line < 1 || line > 1+strings.Count(string(document), "\n") {
			t.Fatalf("line %d is not in the document", line)
		}
		sled, err := doc.ParseSledCard(document)
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err), "%v", err)
			return
		}
		written, err := doc.WriteSledCard(sled)
		require.NoError(t, err)
		again, err := doc.ParseSledCard(written)
		require.NoError(t, err, "%s", written)
		rewritten, err := doc.WriteSledCard(again)
		require.NoError(t, err)
		require.Equal(t, string(written), string(rewritten))
	})
}

// Each event action is read back from its payload, which has a sled as its document.
func TestEveryEventActionIsWrittenAndReadBack(t *testing.T) {
	t.Parallel()
	sled, err := doc.ParseSledCard([]byte(wholeCard))
	require.NoError(t, err)
	id := uuid.UUID{15: 1}
	sled.ID = id
	known := map[string]domain.EventAction{
		"session": domain.AddSession{Session: id, Name: "Sunday"}, "session-changed": domain.ChangeSession{Session: id, Name: "Late", Curfew: time.Date(2026, 9, 19, 23, 0, 0, 0, time.UTC)}, "session-removed": domain.RemoveSession{Session: id},
		"track": domain.AddTrack{Track: id, Name: "Upper"}, "track-renamed": domain.RenameTrack{Track: id, Name: "Lower"}, "track-removed": domain.RemoveTrack{Track: id},
		"sled": domain.AddSled{Sled: sled}, "sled-described": domain.DescribeSled{Sled: sled, Version: 3},
		"order":      domain.OrderClasses{Classes: []uuid.UUID{{15: 2}, id}},
		"inspection": domain.InspectSled{Inspection: id, Sled: id, Points: []domain.Inspected{{Point: "brakes", State: domain.PointNotOK, Note: "left drags"}}},
	}
	for _, k := range domain.EventKinds() {
		kind, payload, err := doc.EncodeEventAction(known[k.Name])
		require.NoError(t, err)
		require.Equal(t, k.Name, kind)
		decoded, err := doc.DecodeEventAction(kind, payload)
		require.NoError(t, err)
		assert.Equal(t, known[k.Name], decoded)
		if strings.HasPrefix(kind, "sled") {
			var line struct {
				Sled struct{ Card json.RawMessage }
			}
			require.NoError(t, json.Unmarshal(payload, &line))
			assert.JSONEq(t, wholeCard, string(line.Sled.Card))
		}
	}
	_, payload, err := doc.EncodeEventAction(domain.InspectSled{By: "Ada Flagg"})
	require.NoError(t, err)
	assert.NotContains(t, string(payload), "Flagg", "a name is no part of the journal")
	_, err = doc.DecodeEventAction("call", nil)
	require.Error(t, err)
}

// A planned class has its sled in its line, and a sled of which little is known is written as it always was.
func TestAPlannedClassKeepsItsSledInTheJournal(t *testing.T) {
	t.Parallel()
	sled, err := doc.ParseSledCard([]byte(wholeCard))
	require.NoError(t, err)
	sled.Changes = 2
	plan := domain.PlanClass{Name: "Farm stock", Rules: set(t, "capped-100m"), Sled: sled}
	kind, payload, err := doc.EncodeAction(plan)
	require.NoError(t, err)
	decoded, err := doc.DecodeAction(kind, payload)
	require.NoError(t, err)
	assert.Equal(t, plan, decoded)
	plan.Sled = domain.Sled{Name: "Grey", Gears: 5, StartHoles: 4}
	_, payload, err = doc.EncodeAction(plan)
	require.NoError(t, err)
	assert.Contains(t, string(payload), `"Sled":{"ID":"00000000-0000-0000-0000-000000000000","Name":"Grey","Gears":5,"StartHoles":4}`)
}
