package doc_test

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
)

// everyAction is one action of each kind with every field filled, and its payload as the journal keeps it. A payload
// that changes can no longer be read back from journals that were written before.
func everyAction(t testing.TB) map[string]struct {
	action  domain.Action
	payload string
} {
	a, b, c := uuid.UUID{15: 1}, uuid.UUID{15: 2}, uuid.UUID{15: 3}
	const one, two, three = `"00000000-0000-0000-0000-000000000001"`, `"00000000-0000-0000-0000-000000000002"`, `"00000000-0000-0000-0000-000000000003"`
	box, err := domain.ParseWeight("21,600 lb")
	require.NoError(t, err)
	limit, err := domain.ParseSpeed("3.5 mph")
	require.NoError(t, err)
	result, err := domain.ParseResult("FP 312.440", domain.Foot)
	require.NoError(t, err)
	dq, err := domain.ParseResult("DQ side line", domain.Foot)
	require.NoError(t, err)
	piles, err := domain.ParsePiles("1,800 lb: 4 left, 6 middle, 4 right")
	require.NoError(t, err)
	setting := domain.Setting{Box: box, Slabs: domain.Slabs{Left: 4, Middle: 6, Right: 4}, Piles: piles, Gear: 3, StartHole: 2,
		Trip: length(t, `180' 6.5"`, 0), Blades: "2.5 cm", PushDown: "late", Device: "laser", SpeedLimit: limit, Note: "wet"}
	return map[string]struct {
		action  domain.Action
		payload string
	}{
		"class":       {domain.PlanClass{Class: a, Event: b, Session: c, Track: a, Name: "Farm stock", Rules: set(t, "capped-100m"), Sled: domain.Sled{ID: b, Name: "Grey", Gears: 5, StartHoles: 4}}, ""},
		"place":       {domain.MoveClass{Session: a, Track: b}, `{"Session":` + one + `,"Track":` + two + `}`},
		"fixed-start": {domain.FixStart{Starts: time.Date(2026, 9, 19, 19, 30, 0, 0, time.UTC)}, `{"Starts":"2026-09-19T19:30:00Z"}`},
		"entry": {domain.AddEntry{Entry: a, Number: "41", Same: b},
			`{"Entry":` + one + `,"Number":"41","Same":` + two + `,"Details":{"Puller":"","Vehicle":"","Home":""}}`},
		"scratch": {domain.Scratch{Entry: a, Reason: "engine"}, `{"Entry":` + one + `,"Reason":"engine"}`},
		"attend": {domain.Attend{Entries: []domain.Attended{{Entry: a, Attendance: domain.Attendance{Guest: true, Came: true, Fee: 2050, Paid: true}}, {Entry: b}}},
			`{"Entries":[{"Entry":` + one + `,"Guest":true,"Came":true,"Fee":2050,"Paid":true},{"Entry":` + two + `,"Guest":false,"Came":false,"Fee":0,"Paid":false}]}`},
		"draw": {domain.DrawClass{Round: a, Seed: "dice 4 2 6", Reason: "again", Reveal: "grey heron", Between: 3, Fixed: []domain.Seat{{Entry: b, Place: 1}}, Groups: [][]uuid.UUID{{b, c}}},
			`{"Round":` + one + `,"Seed":"dice 4 2 6","Reason":"again","Reveal":"grey heron","Between":3,"Fixed":[{"Entry":` + two + `,"Place":1}],"Groups":[[` + two + `,` + three + `]]}`},
		"commitment": {domain.Commit{Hash: "877d", Reason: "lost"}, `{"Hash":"877d","Reason":"lost"}`},
		"swap":       {domain.Swap{Entry: a, With: b, Reason: "one trailer"}, `{"Entry":` + one + `,"With":` + two + `,"Reason":"one trailer"}`},
		"setting": {domain.DraftSetting{Round: a, Setting: setting},
			`{"Round":` + one + `,"Setting":{"Box":"21,600 lb","Slabs":{"Left":4,"Middle":6,"Right":4},"Piles":"1,800 lb: 4 left, 6 middle, 4 right","Gear":3,"StartHole":2,` +
				`"Trip":"180' 6.5\"","Pan":"","Blades":"2.5 cm","PushDown":"late","Device":"laser","SpeedLimit":"3.5 mph","Note":"wet"}}`},
		"freeze": {domain.FreezeSetting{Round: a, Revision: 2}, `{"Round":` + one + `,"Revision":2,"Drafted":"0001-01-01T00:00:00Z"}`},
		"reset":  {domain.ResetSetting{Round: a, Reason: "too light"}, `{"Round":` + one + `,"Reason":"too light"}`},
		"round":  {domain.OpenRound{Round: a, Name: domain.RoundName{PullOff: true, Number: 1}}, `{"Round":` + one + `,"Name":"P1"}`},
		"call":   {domain.Call{Hook: a}, `{"Hook":` + one + `}`},
		"result": {domain.Record{Hook: a, Result: result, Next: b},
			`{"Hook":` + one + `,"Result":{"Outcome":"FP","Distance":"312.440 ft","Reason":""},"Next":` + two + `}`},
		"choice": {domain.Choose{Hook: a, Option: domain.ToLast, Next: b}, `{"Hook":` + one + `,"Option":"last","Next":` + two + `}`},
		"second": {domain.SecondAttempt{Hook: a, Distance: length(t, "61.20", domain.Foot), Next: b},
			`{"Hook":` + one + `,"Distance":"61.20 ft","Next":` + two + `}`},
		"line":        {domain.MoveLine{Line: length(t, "320", domain.Foot), Reason: "sled light"}, `{"Line":"320 ft","Reason":"sled light"}`},
		"test_puller": {domain.PickTest{Entry: a}, `{"Entry":` + one + `}`},
		"stop":        {domain.StopClass{Reason: "rain"}, `{"Reason":"rain"}`},
		"resume":      {domain.ResumeClass{Reason: "dry again"}, `{"Reason":"dry again"}`},
		"again":       {domain.Again{Hook: a, Reason: "sled", Places: 4, Next: b}, `{"Hook":` + one + `,"Reason":"sled","Places":4,"Next":` + two + `}`},
		"drop":        {domain.Drop{Hook: a, Places: 2, Reason: "belt", Next: c}, `{"Hook":` + one + `,"Places":2,"Reason":"belt","Next":` + three + `}`},
		"official":    {domain.MakeOfficial{}, `{"Name":""}`},
		"reopen":      {domain.Reopen{Reason: "video"}, `{"Reason":"video"}`},
		"start":       {domain.Start{Hook: a}, `{"Hook":` + one + `}`},
		"differed": {domain.NoteDifference{Hook: a, What: domain.HandDrop | domain.RedByItself, Words: "pan hung"},
			`{"Hook":` + one + `,"What":"hand drop, red by itself","Words":"pan hung"}`},
		"speed": {domain.ReadSpeed{Hook: a, Top: speed(t, "18.40 mph"), AtLine: speed(t, "29 km/h")},
			`{"Hook":` + one + `,"Top":"18.40 mph","AtLine":"29 km/h"}`},
		"presence": {domain.SayWhere{Entry: a, Where: domain.Missing}, `{"Entry":` + one + `,"Where":"missing"}`},
		"flag": {domain.SayFlag{Hook: a, Call: domain.FlagDisqualified, Reason: "out of bounds"},
			`{"Hook":` + one + `,"Call":"disqualified","Reason":"out of bounds"}`},
		"ready":    {domain.SayReady{Hook: a, Held: true, Words: "cable"}, `{"Hook":` + one + `,"Held":true,"Words":"cable"}`},
		"void":     {domain.VoidHook{Hook: a, Reason: "pulled twice", Next: b}, `{"Hook":` + one + `,"Reason":"pulled twice","Next":` + two + `}`},
		"bring-in": {domain.BringIn{Round: a, Entry: b, Reason: "the flagman's sheet"}, `{"Round":` + one + `,"Entry":` + two + `,"Reason":"the flagman's sheet"}`},
		"protest": {domain.LodgeProtest{Protest: a, Entry: b, Hook: c, About: "side line", Fee: true},
			`{"Protest":` + one + `,"Entry":` + two + `,"Hook":` + three + `,"About":"side line","Fee":true,"By":""}`},
		"ruling": {domain.DecideProtest{Protest: a, Ruling: domain.Upheld, Follows: domain.CorrectionFollows, Reason: "video"},
			`{"Protest":` + one + `,"Ruling":"upheld","Follows":"correction","Reason":"video"}`},
		"weigh": {domain.Weigh{Reading: a, Entry: b, Weight: box, After: true}, `{"Reading":` + one + `,"Entry":` + two + `,"Weight":"21,600 lb","After":true}`},
		"photo": {domain.AttachPhoto{Photo: a, Hook: b, Reading: length(t, "281.36", domain.Foot), Type: domain.PhotoJPEG, Size: 3, SHA256: "ab"},
			`{"Photo":` + one + `,"Hook":` + two + `,"Reading":"281.36 ft","Type":"image/jpeg","Size":3,"SHA256":"ab"}`},
		"misread": {domain.Misread{Reading: a, Reason: "another vehicle"}, `{"Reading":` + one + `,"Reason":"another vehicle"}`},
		"correction": {domain.Correct{Hook: a, Result: dq, Reason: "video", Next: b},
			`{"Hook":` + one + `,"Result":{"Outcome":"DQ","Distance":"","Reason":"side line"},"Reason":"video","Next":` + two + `}`},
	}
}

// A journal that was written before an action had a further field says nothing of it, and is read all the same.
func TestAnOlderJournalIsRead(t *testing.T) {
	t.Parallel()
	const one, two = `"00000000-0000-0000-0000-000000000001"`, `"00000000-0000-0000-0000-000000000002"`
	a, b := uuid.UUID{15: 1}, uuid.UUID{15: 2}
	for kind, line := range map[string]struct {
		payload string
		want    domain.Action
	}{
		"entry":  {`{"Entry":` + one + `,"Number":"41","Details":{"Puller":"","Vehicle":"","Home":""}}`, domain.AddEntry{Entry: a, Number: "41"}},
		"second": {`{"Hook":` + one + `,"Next":` + two + `}`, domain.SecondAttempt{Hook: a, Next: b}},
	} {
		decoded, err := doc.DecodeAction(kind, []byte(line.payload))
		require.NoError(t, err)
		assert.Equal(t, line.want, decoded)
	}
}

// A photo is no part of the journal, which has its hash.
func TestTheBytesOfAPhotoAreInNoJournal(t *testing.T) {
	t.Parallel()
	action, err := domain.ReadPhoto([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x05\x00\x00\x00\x05"))
	require.NoError(t, err)
	require.NotEmpty(t, action.Bytes())
	_, payload, err := doc.EncodeAction(action)
	require.NoError(t, err)
	assert.NotContains(t, strings.ToLower(string(payload)), "bytes")
	decoded, err := doc.DecodeAction("photo", payload)
	require.NoError(t, err)
	read, ok := decoded.(domain.AttachPhoto)
	require.True(t, ok)
	assert.Equal(t, action.SHA256, read.SHA256)
	assert.Nil(t, read.Bytes())
}

func TestEveryActionIsWrittenAndReadBack(t *testing.T) {
	t.Parallel()
	actions := everyAction(t)
	for _, k := range domain.Kinds() {
		t.Run(k.Name, func(t *testing.T) {
			t.Parallel()
			example, ok := actions[k.Name]
			require.True(t, ok, "an action without an example here")
			require.Equal(t, reflect.TypeOf(k.Zero), reflect.TypeOf(example.action))
			kind, payload, err := doc.EncodeAction(example.action)
			require.NoError(t, err)
			assert.Equal(t, k.Name, kind)
			if example.payload != "" {
				assert.JSONEq(t, example.payload, string(payload))
			}
			decoded, err := doc.DecodeAction(kind, payload)
			require.NoError(t, err)
			assert.Equal(t, example.action, decoded)
		})
	}
}

func TestTheJournalHoldsNoPersonalData(t *testing.T) {
	t.Parallel()
	_, payload, err := doc.EncodeAction(domain.AddEntry{Number: "41", Details: domain.Details{Puller: "A. Example", Vehicle: "Grey Mare", Home: "Tarn Hollow"}})
	require.NoError(t, err)
	_, signature, err := doc.EncodeAction(domain.MakeOfficial{Name: "O. Example"})
	require.NoError(t, err)
	_, protest, err := doc.EncodeAction(domain.LodgeProtest{About: "side line", By: "P. Example"})
	require.NoError(t, err)
	for _, personal := range []string{"Example", "Mare", "Hollow"} {
		assert.NotContains(t, string(payload)+string(signature)+string(protest), personal)
	}
}

func TestAJournalLineThatCannotBeReadIsAnError(t *testing.T) {
	t.Parallel()
	for kind, payload := range map[string]string{
		"victory": `{}`, "result": `{"Result":{"Outcome":"won"}}`, "call": `[`, "class": `{"Rules":{}}`, "entry": `{"Entry":"41"}`,
	} {
		_, err := doc.DecodeAction(kind, []byte(payload))
		require.Error(t, err, kind)
	}
	_, err := doc.DecodeAction("class", []byte(`[`))
	require.ErrorContains(t, err, "reading a planned class")
}

// The breaks of a session are in the journal by their start and minutes; a session without any has not a word of them.
func TestTheBreaksOfASessionAreWrittenAndReadBack(t *testing.T) {
	t.Parallel()
	starts := time.Date(2026, 9, 19, 18, 0, 0, 0, time.UTC)
	plain := domain.ChangeSession{Name: "Evening", Starts: starts}
	with := plain
	with.Breaks = []domain.Pause{{From: starts.Add(time.Hour), Minutes: 20}}
	for payload, action := range map[string]domain.EventAction{
		`{"Session":"00000000-0000-0000-0000-000000000000","Name":"Evening","Starts":"2026-09-19T18:00:00Z"}`:                                                         plain,
		`{"Session":"00000000-0000-0000-0000-000000000000","Name":"Evening","Starts":"2026-09-19T18:00:00Z","Breaks":[{"From":"2026-09-19T19:00:00Z","Minutes":20}]}`: with,
	} {
		kind, written, err := doc.EncodeEventAction(action)
		require.NoError(t, err)
		assert.JSONEq(t, payload, string(written))
		read, err := doc.DecodeEventAction(kind, written)
		require.NoError(t, err)
		assert.Equal(t, action, read)
	}
}
