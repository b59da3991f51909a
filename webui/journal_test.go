package webui

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
)

// Every kind of line in a journal has its sentence.
func TestTheJournalInWords(t *testing.T) {
	t.Parallel()
	l := plan(t, "capped-300ft")
	for _, step := range begun("281.36", "keep", "FP") {
		l.step(step)
	}
	l.step("protest 12 1 over the line")
	c := &l.class
	test, second := c.Current().Hooks[0].ID, c.Current().Hooks[1].ID
	told := map[string]struct {
		action domain.Action
		says   string
	}{
		"class":       {domain.PlanClass{Name: c.Name, Rules: c.Rules}, "class planned"},
		"place":       {domain.MoveClass{}, "moved to another session or track"},
		"fixed-start": {domain.FixStart{}, "given another fixed start"},
		"entry":       {domain.AddEntry{Number: "99"}, "entered 99"},
		"scratch":     {domain.Scratch{Entry: l.entry("23"), Reason: "clutch"}, "scratched 23: clutch"},
		"attend": {domain.Attend{Entries: []domain.Attended{{Entry: l.entry("23"), Attendance: domain.Attendance{Came: true, Guest: true, Fee: 2000, Paid: true}}, {Entry: l.entry("7")}}},
			"written down: 23 came, guest, paid; 7 not seen"},
		"draw":        {domain.DrawClass{Seed: "dice 1"}, "drawn with seed dice 1"},
		"setting":     {domain.DraftSetting{Setting: l.setting()}, "setting written"},
		"freeze":      {domain.FreezeSetting{Revision: 1}, "setting frozen"},
		"reset":       {domain.ResetSetting{Reason: "wet"}, "setting reset: wet"},
		"round":       {domain.OpenRound{Name: domain.RoundName{PullOff: true, Number: 1}}, "opened the pull-off"},
		"bring-in":    {domain.BringIn{Entry: l.entry("23"), Reason: "the flagman's sheet"}, "brought 23 into the pull-off: the flagman's sheet"},
		"official":    {domain.MakeOfficial{Name: "Ada Flagg"}, "the result was made official"},
		"reopen":      {domain.Reopen{Reason: "protest"}, "the result was opened again: protest"},
		"call":        {domain.Call{Hook: test}, "called 7 (hook 1, round 1)"},
		"start":       {domain.Start{Hook: test}, "7 (hook 1, round 1) started"},
		"result":      {domain.Record{Hook: second, Result: l.result("FP 312.44")}, "full pull 312.44 ft for 12 (hook 2, round 1)"},
		"choice":      {domain.Choose{Hook: test, Option: domain.ToLast}, "7 (hook 1, round 1) chose: drops to last and hooks again"},
		"second":      {domain.SecondAttempt{Hook: second}, "second attempt for 12 (hook 2, round 1)"},
		"again":       {domain.Again{Hook: second, Reason: "sled, red light"}, "12 (hook 2, round 1) hooks again: sled, red light"},
		"drop":        {domain.Drop{Hook: second, Reason: "belt"}, "12 (hook 2, round 1) dropped: belt"},
		"correction":  {domain.Correct{Hook: test, Result: l.result("DQ"), Reason: "video"}, "corrected 7 (hook 1, round 1) to DQ: video"},
		"test_puller": {domain.PickTest{Entry: l.entry("23")}, "chosen to make the test hook: 23"},
		"line":        {domain.MoveLine{Line: l.result("320").Distance, Reason: "light"}, "full-pull line moved to 320 ft: light"},
		"stop":        {domain.StopClass{Reason: "rain"}, "class stopped: rain"},
		"resume":      {domain.ResumeClass{Reason: "dry again"}, "class goes on: dry again"},
		"differed":    {domain.NoteDifference{Hook: second, What: domain.KillSwitch, Words: "no light"}, "noted of 12 (hook 2, round 1): kill switch: no light"},
		"speed":       {domain.ReadSpeed{Hook: second, Top: reading(t, "18.4 mph")}, "read of 12 (hook 2, round 1): top 18.4 mph"},
		"presence":    {domain.SayWhere{Entry: c.Entries[0].ID, Where: domain.Cooling}, "7 in the line-up: cooling down"},
		"flag":        {domain.SayFlag{Hook: second, Call: domain.FlagDisqualified, Reason: "out of bounds"}, "flag told of 12 (hook 2, round 1): disqualification proposed: out of bounds"},
		"ready":       {domain.SayReady{Hook: second, Held: true, Words: "cable"}, "the sled crew holds: cable, before 12 (hook 2, round 1)"},
		"void":        {domain.VoidHook{Hook: test, Reason: "protest"}, "voided 7 (hook 1, round 1): protest"},
		"commitment":  {domain.Commit{Hash: "877d", Reason: "the text was lost"}, "commitment to the draw published: 877d: the text was lost"},
		"swap":        {domain.Swap{Entry: l.entry("7"), With: l.entry("23"), Reason: "one trailer"}, "7 and 23 changed places: one trailer"},
		"protest":     {domain.LodgeProtest{Entry: l.entry("12"), About: "over the line"}, "protest against 12: over the line"},
		"ruling":      {domain.DecideProtest{Protest: c.Protests[0].ID, Ruling: domain.TurnedDown, Reason: "video"}, "protest against 12 turned down: video"},
		"weigh":       {domain.Weigh{Entry: l.entry("12"), Weight: l.setting().Box, After: true}, "weighed 12: 21,600 lb after the hook"},
		"photo":       {domain.AttachPhoto{Hook: second}, "photo of the reading attached to 12 (hook 2, round 1)"},
		"misread":     {domain.Misread{Reason: "that was 7"}, "a reading of the scale does not count: that was 7"},
	}
	for _, kind := range domain.Kinds() {
		t.Run(kind.Name, func(t *testing.T) {
			row, ok := told[kind.Name]
			require.True(t, ok, "the table has no line of this kind")
			name, payload, err := doc.EncodeAction(row.action)
			require.NoError(t, err)
			require.Equal(t, kind.Name, name)
			assert.Equal(t, row.says, whatHappened(*c, desk.Line{Kind: name, Payload: payload}))
		})
	}
	for says, action := range map[string]domain.EventAction{
		"session added: Sunday": domain.AddSession{Name: "Sunday"}, "session changed: Late": domain.ChangeSession{Name: "Late"}, "a session was removed": domain.RemoveSession{},
		"track added: Upper": domain.AddTrack{Name: "Upper"}, "track renamed: Lower": domain.RenameTrack{Name: "Lower"}, "a track was removed": domain.RemoveTrack{},
		"sled added: Grey": domain.AddSled{Sled: domain.Sled{Name: "Grey"}}, "the classes were put into another order": domain.OrderClasses{}, "sled described anew: Grey, version 3": domain.DescribeSled{Sled: domain.Sled{Name: "Grey"}, Version: 2},
	} {
		kind, payload, err := doc.EncodeEventAction(action)
		require.NoError(t, err)
		assert.Equal(t, says, whatHappened(*c, desk.Line{Kind: kind, Payload: payload}))
	}
	for kind, says := range map[string]string{"event": "event planned", "pass": "entry link made", "enter": "a device entered", "leave": "a pass was given back", "revoke": "a pass was taken away", "of another year": "of another year"} {
		assert.Equal(t, says, whatHappened(*c, desk.Line{Kind: kind}))
	}
	for says, action := range map[string]domain.Action{
		"entered 99, the same vehicle as 23":                     domain.AddEntry{Number: "99", Same: l.entry("23")},
		"second attempt for 12 (hook 2, round 1), after 81.5 ft": domain.SecondAttempt{Hook: second, Distance: l.result("81.5").Distance},
		"DQ at 201.3 ft, out of bounds for 12 (hook 2, round 1)": domain.Record{Hook: second, Result: l.result("DQ at 201.3 out of bounds")},
	} {
		assert.Equal(t, says, whatHappened(*c, line(t, action)))
	}
	measuring := *c
	measuring.Rules.Reasons.Of = map[domain.Cause]domain.Consequence{domain.CauseOutOfBounds: domain.MeasuredThere}
	assert.Equal(t, "DQ at 201.3 ft, out of bounds for 12 (hook 2, round 1); under these rules 201.3 counts",
		whatHappened(measuring, line(t, domain.Record{Hook: second, Result: l.result("DQ at 201.3 out of bounds")})))
	assert.Equal(t, "called a hook", whatHappened(*c, line(t, domain.Call{Hook: uuid.New()})), "a hook that is not known here")
}

// line is a line of the journal about an action.
func line(t *testing.T, a domain.Action) desk.Line {
	t.Helper()
	kind, payload, err := doc.EncodeAction(a)
	require.NoError(t, err)
	return desk.Line{Kind: kind, Payload: payload}
}

func TestResultsInWords(t *testing.T) {
	t.Parallel()
	for written, words := range map[string]string{
		"281.36": "281.36 ft", `287' 4.5"`: `287' 4.5"`, "0": "0 ft", "FP": "full pull", "FP 312.44": "full pull 312.44 ft",
		"DQ out of bounds": "DQ, out of bounds", "absent": "absent", "absent at a wedding": "absent, at a wedding", "rehook sled": "rehook, sled",
	} {
		result, err := domain.ParseResult(written, domain.Foot)
		require.NoError(t, err)
		assert.Equal(t, words, resultWords(result))
	}
}

func TestRoundsInWords(t *testing.T) {
	t.Parallel()
	for written, want := range map[string][2]string{
		"1": {"Round 1", "round 1"}, "2": {"Round 2", "round 2"}, "P1": {"Pull-off", "the pull-off"}, "P2": {"Pull-off 2", "pull-off 2"},
	} {
		name, err := domain.ParseRoundName(written)
		require.NoError(t, err)
		assert.Equal(t, want, [2]string{roundTitle(name), roundName(name)})
	}
}

// Who did something is a role and a device, as far as they are known.
func TestTheTailOfAJournal(t *testing.T) {
	t.Parallel()
	event := domain.Event{Zone: "America/Chicago"}
	one, two := domain.Class{ID: uuid.New(), Name: "Stock"}, domain.Class{ID: uuid.New(), Name: "Open"}
	entered := line(t, domain.AddEntry{Number: "41"})
	entered.Number, entered.Subject, entered.At = 412, two.ID, time.Date(2026, 9, 19, 23, 57, 0, 0, time.UTC)
	entered.Role, entered.Device = "desk", "laptop"
	opened := desk.Line{Number: 1, Kind: "event", Device: "the program"}
	bare := desk.Line{Number: 2, Kind: "enter", Role: "cab"}

	told := journalLines(event, []domain.Class{one, two}, []desk.Line{entered, bare, opened})
	require.Len(t, told, 3)
	assert.Equal(t, "412", told[0].Number)
	assert.Equal(t, "18:57", told[0].Time, "on the event's own clock")
	assert.Equal(t, []string{"desk", "laptop"}, []string{told[0].Who, told[0].Device})
	assert.Equal(t, []string{"Open", "entered 41"}, []string{told[0].Class, told[0].What})
	assert.Equal(t, "cab", told[1].Who)
	assert.Equal(t, "a device entered", told[1].What)
	assert.Equal(t, []string{"the program", ""}, []string{told[2].Who, told[2].Device})
	assert.Empty(t, journalLines(event, []domain.Class{two}, []desk.Line{entered})[0].Class, "on its own page a class is not named")
}

// After a form was sent, the page says what it did; after something else it says nothing.
func TestTheNoticeOfWhatWasStored(t *testing.T) {
	t.Parallel()
	entered := line(t, domain.AddEntry{Number: "41"})
	entered.Number = 412
	page := desk.ClassPage{Journal: []desk.Line{entered}}
	assert.Equal(t, "Stored as number 412: entered 41", notice(page, "412"))
	assert.Empty(t, notice(page, "411"))
	assert.Empty(t, notice(page, "<b>"))
}
