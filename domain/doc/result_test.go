package doc_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
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

// rewrite replaces a file as a whole, so that a test beside, which reads it, never sees half of it, and nothing is lost when
// one of them fails.
func rewrite(t testing.TB, file string, content []byte) {
	t.Helper()
	require.NoError(t, os.WriteFile(file+".new", content, 0o600))
	require.NoError(t, os.Chmod(file+".new", 0o644))
	require.NoError(t, os.Rename(file+".new", file))
}

var update = flag.Bool("update", false, "write the golden files of results anew")

// exported writes a result as JSON.
func exported(t require.TestingT, r doc.Result) []byte {
	var out bytes.Buffer
	require.NoError(t, r.WriteJSON(&out))
	return out.Bytes()
}

// resultSchema is the published schema, understood by a validator that holds it against draft 2020-12 first.
func resultSchema(t require.TestingT) *jsonschema.Schema {
	published, err := jsonschema.UnmarshalJSON(strings.NewReader(doc.ResultSchema()))
	require.NoError(t, err)
	compiler := jsonschema.NewCompiler()
	compiler.AssertFormat()
	require.NoError(t, compiler.AddResource("https://clayline.test"+doc.ResultSchemaPath, published))
	schema, err := compiler.Compile("https://clayline.test" + doc.ResultSchemaPath)
	require.NoError(t, err)
	return schema
}

// fits holds a document against the schema.
func fits(t require.TestingT, schema *jsonschema.Schema, document []byte) {
	decoded, err := jsonschema.UnmarshalJSON(bytes.NewReader(document))
	require.NoError(t, err)
	require.NoError(t, schema.Validate(decoded))
}

// tales are classes in every state that matters, by name.
func tales(t testing.TB) map[string]*tale {
	of := func(rules string, numbers ...string) *tale { return newTale(t, set(t, rules)).drawn(numbers...) }
	kept := set(t, "capped-300ft")
	kept.Reset = domain.KeepHooks
	withdrawn := set(t, "capped-300ft")
	withdrawn.PullOff.Absent = domain.Withdrawn
	undrawn := newTale(t, set(t, "capped-300ft"))
	undrawn.enter("41", "Maud Farrow", "", "")
	inches := of("capped-300ft", "41")
	inches.setting.Trip = length(t, `180' 6.5"`, 0)
	return map[string]*tale{
		"nobody":       newTale(t, set(t, "floating-m")),
		"undrawn":      undrawn,
		"drawn":        of("capped-300ft", "41", "7"),
		"drawn again":  of("capped-300ft", "41", "7").steps("redraw a number was read wrong"),
		"on the track": of("capped-300ft", "41", "7").steps("set", "start"),
		"choice open":  of("capped-300ft", "41", "7").steps("set", "281.36"),
		"in inches":    inches.steps("set", `287' 4.5"`, "keep"),
		"two settings": newTale(t, kept).drawn("41", "7", "23").steps("set", "281.36", "keep", "reset too light", "set", "250.10", "keep", "260", "sign Ada Flagg"),
		"being reset":  of("capped-300ft", "41", "7").steps("set", "281.36", "keep", "reset too light"),
		"restarted":    of("capped-300ft", "41", "7").steps("set", "281.36", "keep", "reset too light", "set", "270", "keep", "271"),
		"pull-offs":    of("capped-300ft", "41", "7", "23").steps("set", "FP", "FP 301.2", "250", "open", "set", "310.5", "310.5"),
		"shared":       of("floating-m", "41", "7", "23").steps("set", "83.91", "83.910", "12.5"),
		"withdrawn":    newTale(t, withdrawn).drawn("41", "7", "23").steps("set", "FP", "FP", "FP", "open", "set", "312.44", "absent", "DQ out of bounds"),
		"scratched":    of("capped-300ft", "41", "7", "23").steps("scratch 7 engine", "set", "again sled", "drop belt", "second"),
		"sum of two": of("sum-of-two-100m", "41", "7").steps("set", "83.91", "DQ side line", "open", "set", "17.5", "now", "19",
			"absent", "correct 41 18.5 misread"),
	}
}

func TestEveryStateFitsTheSchema(t *testing.T) {
	t.Parallel()
	schema := resultSchema(t)
	for name, s := range tales(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			fits(t, schema, exported(t, s.told()))
			tellsOf(t, s)
		})
	}
}

// tellsOf holds a document against the class that it tells of, in both forms.
func tellsOf(t require.TestingT, s *tale) {
	class, placings := s.told().Classes[0], s.class.Standing()
	require.Len(t, class.Standing, len(placings))
	for i, p := range placings {
		placed := class.Standing[i]
		require.Equal(t, s.class.Entries[p.Row].Number, placed.Entry)
		require.Equal(t, p.Place == 0, placed.Place == nil)
		require.True(t, placed.Place == nil || *placed.Place == p.Place)
		require.Equal(t, [3]bool{p.Shared, p.FullPull, p.Withdrawn}, [3]bool{placed.Shared, placed.FullPull, placed.Withdrawn})
	}
	read := records(t, csvOf(t, s.told()))
	column, hooks := columnsOf(read), 0
	for i := range s.class.Rounds {
		for _, h := range s.class.Rounds[i].Hooks {
			hooks++
			require.Equal(t, s.class.Rounds[i].Name.String(), read[hooks][column["round"]])
			require.Equal(t, fmt.Sprint(h.Number), read[hooks][column["hook"]])
			require.Equal(t, h.Result.Outcome.String(), read[hooks][column["outcome"]])
			require.Equal(t, h.Result.Distance.Decimal(), read[hooks][column["distance"]])
		}
	}
	lines := make(map[string]bool)
	for i, record := range read[1:] {
		require.Equal(t, i >= hooks, record[column["hook"]] == "", "entries without a hook come last")
		lines[record[column["entry"]]] = true
		for _, cell := range record {
			require.False(t, calculated(cell), "%q", cell)
		}
	}
	require.Len(t, lines, len(s.class.Entries), "everybody has a line")
}

// Whatever happens to a class, its document fits the schema and both forms tell the same.
func TestAnyClassFitsTheSchema(t *testing.T) {
	t.Parallel()
	schema := resultSchema(t)
	rapid.Check(t, func(t *rapid.T) {
		s := anything(t)
		fits(t, schema, exported(t, s.told()))
		tellsOf(t, s)
	})
}

// anything is a class to which anything happened, with any text typed; refused actions are as if they were not tried.
func anything(t *rapid.T) *tale {
	rules, err := doc.ReadyMadeRuleSet(rapid.SampledFrom(doc.ReadyMade()).Draw(t, "rules"))
	require.NoError(t, err)
	rules.Reset = rapid.SampledFrom([]domain.ResetEffect{domain.Restart, domain.KeepHooks}).Draw(t, "reset")
	if rules.Capped {
		rules.PullOff.Absent = rapid.SampledFrom([]domain.AbsentFinalist{domain.LastOfPullOff, domain.Withdrawn}).Draw(t, "absent")
	}
	s := newTale(t, rules)
	typed := rapid.OneOf(rapid.SampledFrom(slices.Sorted(maps.Keys(nasty))), rapid.StringN(1, 20, 60))
	for i := range rapid.IntRange(0, 5).Draw(t, "entries") {
		s.enter(fmt.Sprint(i+1), typed.Draw(t, "puller"), typed.Draw(t, "vehicle"), typed.Draw(t, "home"))
	}
	for range rapid.IntRange(0, 40).Draw(t, "steps") {
		s.setting.Note = typed.Draw(t, "note")
		for _, a := range s.next(t, typed.Draw(t, "reason")) {
			_ = s.try(a)
		}
	}
	return s
}

// next draws what happens next: mostly what sensible people do, now and then something else.
func (s *tale) next(t *rapid.T, reason string) []domain.Action {
	var round, hook = domain.Round{}, domain.Hook{}
	if r := s.class.Current(); r != nil {
		round = *r
		if len(r.Hooks) > 0 {
			hook = rapid.SampledFrom(r.Hooks).Draw(t, "hook")
		}
	}
	switch rapid.IntRange(0, 19).Draw(t, "what happens") {
	case 0:
		return []domain.Action{domain.ResetSetting{Round: round.ID, Reason: reason}}
	case 1:
		return []domain.Action{domain.Again{Hook: hook.ID, Reason: reason, Next: s.id()}}
	case 2:
		return []domain.Action{domain.Correct{Hook: hook.ID, Result: s.anyResult(t, reason), Reason: reason, Next: s.id()}}
	case 3:
		return []domain.Action{domain.VoidHook{Hook: hook.ID, Reason: reason, Next: s.id()}}
	case 4:
		return []domain.Action{domain.AddEntry{Entry: s.id(), Number: fmt.Sprint(rapid.IntRange(6, 9).Draw(t, "number"))}}
	case 5:
		return []domain.Action{domain.Scratch{Entry: hook.Entry, Reason: reason}, domain.MakeOfficial{Name: reason}}
	case 6:
		return []domain.Action{domain.SecondAttempt{Hook: hook.ID, Next: s.id()}, domain.Drop{Hook: hook.ID, Reason: reason, Next: s.id()}}
	}
	switch s.class.Phase() {
	case domain.Entering:
		return []domain.Action{domain.DrawClass{Round: s.id(), Seed: reason}}
	case domain.SettingDue:
		return s.actions("set", "")
	case domain.Ready:
		return []domain.Action{domain.Call{Hook: s.id()}}
	case domain.Hooking:
		on := s.class.OnTrack().ID
		return []domain.Action{domain.Start{Hook: on}, domain.Record{Hook: on, Result: s.anyResult(t, reason), Next: s.id()}}
	case domain.ChoiceOpen:
		choice := s.class.Pending()
		return []domain.Action{domain.Choose{Hook: choice.Hook.ID, Option: rapid.SampledFrom(choice.Options).Draw(t, "option"), Next: s.id()}}
	default:
		return s.actions("open", "")
	}
}

func (s *tale) anyResult(t *rapid.T, reason string) domain.Result {
	written := rapid.SampledFrom([]string{"0", "12.5", "83.91", "83.910", "FP", "FP 340.25", "FP 340.25", "DQ", "absent"}).Draw(t, "result")
	result := s.result(written)
	if !result.Reached() {
		result.Reason = reason
	}
	return result
}

// An object of the schema has just its members, and each of them: one more or one less is refused, at every place.
func TestTheSchemaForbidsMoreAndLess(t *testing.T) {
	t.Parallel()
	schema := resultSchema(t)
	places := 0
	decoded, err := jsonschema.UnmarshalJSON(bytes.NewReader(exported(t, wholeClass(t).told())))
	require.NoError(t, err)
	for object := range objects(decoded) {
		places++
		object["colour"] = "red"
		require.Error(t, schema.Validate(decoded), "one more in %v", object)
		delete(object, "colour")
		for _, name := range slices.Sorted(maps.Keys(object)) {
			value := object[name]
			delete(object, name)
			require.Error(t, schema.Validate(decoded), "%s is missing in %v", name, object)
			object[name] = value
		}
	}
	require.NoError(t, schema.Validate(decoded))
	assert.Greater(t, places, 40)
	var written any
	require.NoError(t, json.Unmarshal([]byte(doc.ResultSchema()), &written))
	for object := range objects(written) {
		if properties, described := object["properties"].(map[string]any); described && object["type"] == "object" {
			assert.Equal(t, false, object["additionalProperties"])
			assert.Len(t, object["required"], len(properties))
		}
	}
}

// objects goes through all objects of a decoded document.
func objects(decoded any) func(yield func(map[string]any) bool) {
	var list []map[string]any
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			list = append(list, v)
			for _, name := range slices.Sorted(maps.Keys(v)) {
				walk(v[name])
			}
		case []any:
			for _, each := range v {
				walk(each)
			}
		}
	}
	walk(decoded)
	return slices.Values(list)
}

// wholeClass is a small class with everything in it.
func wholeClass(t require.TestingT) *tale {
	rules, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(t, err)
	rules.Reset = domain.KeepHooks
	rules.Protest = domain.ProtestRule{Minutes: 2, Fee: "$50 an issue"}
	rules.Weight = domain.WeightRule{Limit: pounds(t, "8500 lb"), Tolerance: pounds(t, "10 lb"), When: domain.WeighBefore, Over: domain.OverDisqualified}
	s := newTale(t, rules)
	s.enter("41", "Maud Farrow", "Brindle Ox", "Wrenfield")
	s.enter("7", `Ellis "Tuck" Tarrant`, "Late Hay", "Lower Marsh")
	s.enter("23", "Jörg Weir", "=Stone Boat", "Kettle Bridge")
	s.enter("12", "Pia Holm", "Sunday, Plough", "Sallow Creek")
	s.enter("38", "Cora Lindqvist", "Gravel Psalm", "")
	s.steps("draw dice 4 2 6", "redraw a number was read wrong", "scratch 38 engine")
	s.enter("5", "Ravi Anand", "Long Acre", "Wrenfield")
	s.setting.Trip, s.setting.Blades, s.setting.PushDown, s.setting.Device, s.setting.Note = length(t, "198", domain.Foot), "1 in", "late", "laser", "wet"
	s.setting.Pan, err = domain.ParseWeight("150 lb")
	require.NoError(t, err)
	s.setting.SpeedLimit, err = domain.ParseSpeed("20 mph")
	require.NoError(t, err)
	s.steps("set", "start", "281.36", "keep", "again sled, light went red", "reset too light")
	s.setting.Slabs.Middle = 1
	s.setting.Box, err = domain.ParseWeight("23400 lb")
	require.NoError(t, err)
	return s.steps("set", "FP", "drop belt came off", "DQ out of bounds", "FP 304.20", "254.77", "correct 23 254.97 misread",
		"open", "set", "309.62", "absent", "weigh 41 after 8504.5 lb", "weigh 23 before 8,520 lb", "protest 23 1 front wheel over the line", "wait", "rule turned_down the flagman stood beside it",
		"sign Ada Flagg", "reopen the tape was read from the wrong side", "protest 12 - weights not in place", "correct 12 308.62 read from the wrong side",
		"rule upheld seen on video", "speed 12 18.4 mph/17.9 mph", "wait", "sign Ada Flagg")
}

// What leaves does not change by itself: a small class, byte for byte. Run with -update after a change that is meant.
func TestASmallClassIsWrittenAsItAlwaysWas(t *testing.T) {
	t.Parallel()
	result := wholeClass(t).told()
	for name, written := range map[string][]byte{"result.json": exported(t, result), "result.csv": []byte(csvOf(t, result))} {
		golden := filepath.Join("testdata", name)
		if *update {
			require.NoError(t, os.WriteFile(golden, written, 0o600))
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err)
		assert.Equal(t, string(want), string(written), name)
	}
}
