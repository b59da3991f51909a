package doc_test

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// parameter is one of the things in which published rule books differ. It has fields, and the tests that hold what they do,
// or a reason why it needs none; with neither it is not in the program yet.
type parameter struct {
	what          string
	fields, tests []string
	reason        string
}

// are lists names for a row of the table.
func are(names ...string) []string { return names }

// parameters are all of them, numbered from 1 in this order.
var parameters = []parameter{
	{"unit and precision", are("unit", "measure.decimals"), are("TestUnitsHaveShortNames", "TestMoreDecimalsThanTheDeviceHasAreUnlikely"), ""},
	{"where a full pull lies, and whether that moves", are("line", "cap", "moving_line", "moving_line.choices", "moving_line.by"), are("TestTheLineIsSetAfterTheFirstHook"), ""},
	{"class distances capped at the line", are("cap"), are("TestResultsSettleUnderTheRules", "TestAFigurePastTheLineIsCappedInAClassRound"), ""},
	{"finish of the pull-off", are("pull_off.measured", "pull_off.line"), are("TestAPullOffThatIsPulledOutTheEnd", "TestThePullOffMayHaveALineOfItsOwn"), ""},
	{"measuring point", are("measure.from"), are("TestFactsBesideTheFigures"), ""},
	{"shortest measurable pull", are("measure.minimum"), are("TestAMeasurablePullBeginsAtAnInch"), ""},
	{"source of the order", are("order.by"), are("TestWhereTheOrderComesFrom"), ""},
	{"late entries", are("order.late", "points.late"), are("TestALateEntry"), ""},
	{"time to hook", are("call.minutes", "call.from"), are("TestTheTimeToHook"), ""},
	{"not ready in time", are("call.not_ready", "call.drop_once", "drop_places"), are("TestTheTimeToHook", "TestADropOncePerClass", "TestAPullerInTrouble"), ""},
	{"who is the test puller", are("test_puller.who"), are("TestTheSledOperatorChoosesTheTestPuller", "TestASessionOfTestsLeavesNoTestHook"), ""},
	{"choices of the test puller", are("test_puller.options", "test_puller.must"),
		are("TestTheTestPullerMayHookAgainInThirdPlace", "TestTheTestPullerMayHookAgainAtOnce", "TestTheTestPullerMayHaveNoChoice"), ""},
	{"when the test puller decides", are("test_puller.until", "test_puller.silence"), are("TestSilenceKeepsUnlessTheRulesSayOtherwise"), ""},
	{"whether the test puller knows the distance", are("test_puller.before_distance"), are("TestAKeptDistanceIsOnNoPublicPage"), ""},
	{"first distance of a test puller who hooks again", nil, are("TestTheTestPullerMayDropToLast"), "every book that was read gives it up"},
	{"the choice after a disqualification on the test hook", are("test_puller.after_dq"), are("TestADisqualifiedTestPuller"), ""},
	{"parts lost on the test hook", are("test_puller.lost_part_free"), are("TestWhatFallsOffOnTheTestHookIsFree"), ""},
	{"what calls for a reset of the sled", are("reset_when.past", "reset_when.full_pulls"), are("TestWhenAResetIsAdvised"), ""},
	{"what a reset does to hooks made", are("reset"), are("TestASledThatWasChangedAfterTwoHooks", "TestTheOtherEffectsOfAReset"), ""},
	{"number of attempts", are("restarts.attempts"), are("TestAttemptsAndWhenTheyFollow"), ""},
	{"restart line", are("restart", "restarts.share", "restarts.kinds", "test_puller.no_restart"),
		are("TestAtTheRestartLineThereIsNoSecondAttempt", "TestTheRestartLineMayNotHoldOnTheTestHook", "TestARestartLineMayBeAShareOfTheTrack", "TestARestartLineMayDependOnTheKindOfVehicle"), ""},
	{"sled or throttle", are("restarts.judged_by"), are("TestARestartIsJudgedBySledOrThrottle"), ""},
	{"when the attempt is repeated", are("restarts.options"), are("TestAttemptsAndWhenTheyFollow"), ""},
	{"which attempt counts", nil, are("TestAStopBeforeTheRestartLineMayBeRepeatedOnce"), "an attempt that is repeated is given up; where the better of two full tries counts, they are rounds: rounds and counts say it"},
	{"restart line in the pull-off", are("pull_off.second_attempt"), are("TestAStopBeforeTheRestartLineInTheFinal"), ""},
	{"qualifying rounds", are("rounds", "counts"), are("TestBestOfTwoWithoutTheFullPullersOfTheFirstRound", "TestSumOfTwoBringsEverybodyBackAndAThirdPullDecidesFullSums"), ""},
	{"re-hook for the sled or an official", are("rehook_drop", "rehook_minutes"), are("TestAReHookForTheSledIsAtOnceOrAFewPlacesLater"), ""},
	{"out of bounds: vehicle or sled", are("reasons.out_of_bounds", "reasons.sled_out_of_bounds"), are("TestTheBooksJudgeTheSameHookDifferently"), ""},
	{"out of bounds: what follows", are("reasons.out_of_bounds", "reasons.sled_out_of_bounds"), are("TestTheBooksJudgeTheSameHookDifferently"), ""},
	{"how far the side lines reach", are("side_lines_to"), are("TestPastTheEndOfTheSideLinesNobodyIsOutOfBounds"), ""},
	{"a part falls off", are("reasons.lost_part", "reasons.breakage"), are("TestTheBooksJudgeTheSameHookDifferently"), ""},
	{"loss of fluid", are("reasons.fluid"), are("TestEveryCauseHasItsWord"), ""},
	{"front wheels too high", are("reasons.front_end"), are("TestTheBooksJudgeTheSameHookDifferently"), ""},
	{"flags", are("reasons.red_flag", "reasons.early_start"), are("TestACauseMayCostTheAttemptAlone", "TestEveryCauseHasItsWord"), ""},
	{"speed limit", are("speed", "speed.limit", "speed.from", "speed.warnings", "speed.device", "speed.own_device", "reasons.speed"),
		are("TestASpeedLimitedClassHasTheLimitOnEveryCard"), ""},
	{"who comes to the pull-off", are("pull_off.who", "pull_off.top", "pull_off.fill_to"), are("TestTheTopThreePullOff", "TestAFinalIsFilledUp", "TestFullPullsMayShareThePlace"), ""},
	{"a single full pull", are("pull_off.fill_to"), are("TestASingleFullPull"), ""},
	{"order of the pull-off", are("pull_off.order"), are("TestAPullOffMayBeHookedTheOtherWayRound"), ""},
	{"a full puller who does not come back", are("pull_off.absent"), are("TestAFullPullerWhoDoesNotComeBack"), ""},
	{"0 or a breakage in the pull-off", nil, are("TestStandingReadsLikeTheRuleBook"), "0 is a distance there too, and the last of those who hooked"},
	{"a disqualification in the pull-off", are("pull_off.disqualified"), are("TestADisqualifiedFinalist"), ""},
	{"the driver of the pull-off", are("pull_off.same_driver"), are("TestBeforeAPullOff"), ""},
	{"weighing and fuel before the pull-off", are("pull_off.before"), are("TestBeforeAPullOff"), ""},
	{"equal distances; the faster time of one event is not among them, because nobody measures it here", are("ties.are", "ties.places"), are("TestADistanceTie"), ""},
	{"a vehicle twice in a class", are("entries.vehicle_twice"), are("TestAVehicleTwiceInAClass", "TestAVehicleThatPlacesOnceOnPaper"), ""},
	{"a driver twice in a class", nil, are("TestPublishedResultsAreRankedAsPrinted"), "it is normal: the vehicle places"},
	{"tolerance on the scale", are("weight.limit", "weight.tolerance", "weight.least", "weight.with_driver"), are("TestAWeightIsWithinLimitAndTolerance", "TestAVehicleMayBeTooLight"), ""},
	{"when is weighed", are("weight.when"), are("TestTooHeavyAfterTheHook", "TestWhoLedIsWeighed"), ""},
	{"tries on the scale", are("weight.tries", "weight.over"), are("TestTwoTriesAtTheScale"), ""},
	{"overweight after the hook", are("reasons.overweight"), are("TestEveryCauseHasItsWord"), ""},
	{"least number of entries", are("entries.least", "entries.below", "points.minimum", "points.below", "purse.minimum", "purse.reduced"), are("TestTooFewEntriesAreToldToTheDesk", "TestPublishedPurses"), ""},
	{"points for places", are("points.places", "points.step", "points.floor", "points.outside"), are("TestThePublishedSchedulesGiveTheirPoints", "TestFinalistsAreWorthMoreThanTheOthers"), ""},
	{"points beside places", are("points.show_up", "points.hook", "points.hook_for", "points.registration"), are("TestThePublishedSchedulesGiveTheirPoints", "TestPointsAreSaidInTheirParts"), ""},
	{"points of the disqualified", are("points.dq", "points.pull_off_dq", "points.broke", "points.broke_before", "points.not_hooked"), are("TestThePublishedSchedulesForWhoHasNoPlace", "TestADisqualificationInThePullOffKeepsItsPoints"), ""},
	{"points by the reason of a disqualification", are("points.dq_causes"), are("TestThePublishedSchedulesForWhoHasNoPlace"), ""},
	{"guests in the points", are("points.guests"), are("TestThePublishedSchedulesGiveTheirPoints"), ""},
	{"whose points they are", are("points.to"), are("TestEveryFieldThatDiffersIsExplained"), ""},
	{"points of shared places", are("points.ties"), are("TestThePublishedSchedulesGiveTheirPoints"), ""},
	{"points when it rains", are("points.stopped", "points.not_run"), are("TestThePublishedPointsForRain"), ""},
	{"what stands of a class that is stopped", are("stopped"), are("TestWhatStandsOfAClassThatIsStopped"), ""},
	{"drops and least shares of a season", nil, are("TestDropsBuyBacksMinimumAndPenalties"), "a season is over classes of many sets; its own file says it, see season.md"},
	{"ties of a season", nil, are("TestTheTotalDistanceBreaksASeasonTie", "TestTheFourStepsOfPVTT", "TestTheChainOfCITP", "TestTheGreatestDistanceOfTheDayIsUsed"), "the season file has the chain, see season.md"},
	{"purse", are("purse", "purse.prizes", "purse.share", "purse.of_each", "purse.added", "purse.added_to", "purse.split", "purse.guests", "purse.stopped"), are("TestPublishedPurses", "TestWhatIsPaidIsThePurse"), ""},
	{"protests", are("protest.minutes", "protest.fee", "protest.until", "protest.decides"),
		are("TestAResultIsSignedWhenTheWindowForProtestsIsOver", "TestWithoutAClockNothingIsWaitedForButTheProtestsThereAre", "TestRulesWithoutProtestsTakeNone"), ""},
	{"wording of results", nil, are("TestResultIsReadAsItStandsOnASheet"), "FP, FP with its figure and DQ are read and written as published results have them; the rest is plain English"},
}

// section writes the parameters as they stand in docs/rules.md, between its two marks.
func parameterSection() string {
	var fields, reasons int
	var rows strings.Builder
	for i, p := range parameters {
		says := "not yet"
		switch {
		case len(p.fields) > 0:
			fields++
			says = "`" + strings.Join(p.fields, "`, `") + "`"
		case p.reason != "":
			reasons++
			says = "no field: " + p.reason
		}
		fmt.Fprintf(&rows, "| %d | %s | %s | %s |\n", i+1, p.what, says, strings.Join(p.tests, ", "))
	}
	return fmt.Sprintf("\nOf %d parameters %d are fields, %d need none, and %d are not in the program yet.\n\n| | parameter | field | test |\n|---|---|---|---|\n%s",
		len(parameters), fields, reasons, len(parameters)-fields-reasons, rows.String())
}

// testsOfTheTree are the names of all tests.
func testsOfTheTree(t *testing.T) map[string]bool {
	named := regexp.MustCompile(`(?m)^func (Test[A-Za-z0-9_]+)\(`)
	tests := make(map[string]bool)
	require.NoError(t, filepath.WalkDir(filepath.Join("..", ".."), func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		source, err := os.ReadFile(path)
		for _, found := range named.FindAllStringSubmatch(string(source), -1) {
			tests[found[1]] = true
		}
		return err
	}))
	return tests
}

// Every parameter of the published books is a field with its test, or has a reason; the table of the manual says so.
func TestEveryParameterIsAFieldOrHasAReason(t *testing.T) {
	t.Parallel()
	require.Len(t, parameters, 65)
	fields, tests := slices.Collect(maps.Keys(wrongValues)), testsOfTheTree(t)
	for _, p := range parameters {
		assert.False(t, len(p.fields) > 0 && p.reason != "", "%s: a field or a reason", p.what)
		assert.Equal(t, len(p.fields) > 0 || p.reason != "", len(p.tests) > 0, "%s: whatever is in the program has a test", p.what)
		for _, field := range p.fields {
			assert.Contains(t, fields, field, p.what)
		}
		for _, name := range p.tests {
			assert.True(t, tests[name], "%s: there is no test %s", p.what, name)
		}
	}
	// A field that is no parameter of the books is one of the document's own.
	own := []string{"name", "title", "reasons", "restarts", "test_puller", "pull_off", "ties", "measure", "entries", "order", "call", "reset_when", "points", "protest", "weight", "ready",
		"pull_off.added", "reasons.jerking", "reasons.not_ready", "reasons.illegal_vehicle", "reasons.conduct"}
	for _, field := range fields {
		of := slices.ContainsFunc(parameters, func(p parameter) bool { return slices.Contains(p.fields, field) })
		assert.NotEqual(t, of, slices.Contains(own, field), "field %s is of a parameter, or of the document", field)
	}
}

func TestTheTableOfParametersIsNotStale(t *testing.T) {
	t.Parallel()
	page := manual(t, "rules.md")
	begin, rest, found := strings.Cut(page, "<!-- parameters -->\n")
	require.True(t, found)
	section, end, found := strings.Cut(rest, "<!-- end of parameters -->\n")
	require.True(t, found)
	if *update {
		section = parameterSection()
		page = begin + "<!-- parameters -->\n" + section + "\n<!-- end of parameters -->\n" + end
		rewrite(t, filepath.Join("..", "..", "docs", "rules.md"), []byte(page))
		return
	}
	assert.Equal(t, parameterSection()+"\n", section, "go test ./domain/doc -update writes it anew")
}
