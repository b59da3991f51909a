package doc_test

import (
	"slices"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// drawn draws parts of a rule set in one unit. Its lines are ten and more, what lies before them less.
type drawn struct {
	t    *rapid.T
	unit domain.Unit
}

// yes draws whether something is said.
func (d drawn) yes(what string) bool { return rapid.Bool().Draw(d.t, what) }

// upTo draws a number from 0.
func (d drawn) upTo(most int, what string) int { return rapid.IntRange(0, most).Draw(d.t, what) }

// weight draws a weight limit, or none.
func (d drawn) weight() (w domain.WeightRule) {
	if !d.yes("weighed") {
		return w
	}
	unit := rapid.SampledFrom([]string{" lb", " kg"}).Draw(d.t, "unit of weight")
	w = domain.WeightRule{
		Limit: pounds(d.t, rapid.StringMatching(`[1-9][0-9]{1,4}(\.[0-9]{1,3})?`).Draw(d.t, "limit")+unit), Tries: d.upTo(9, "tries"),
		When: domain.WeighTime(1 + d.upTo(3, "when")), Over: domain.Overweight(1 + d.upTo(2, "over")), WithDriver: d.yes("driver"),
	}
	if d.yes("tolerant") {
		w.Tolerance = pounds(d.t, "10"+unit)
	}
	if d.yes("least weight") {
		w.Least = rapid.SampledFrom([]domain.Weight{pounds(d.t, "1"+unit), w.Limit, w.Most()}).Draw(d.t, "least")
	}
	return w
}

// words draws words of a rule book, or none.
func (d drawn) words(what string) string {
	return rapid.SampledFrom([]string{"", "as it stands", `under "theirs" & <ours>`}).Draw(d.t, what)
}

// line draws a length that may be a full-pull line.
func (d drawn) line(what string) domain.Distance {
	return length(d.t, rapid.StringMatching(`[1-9][0-9]{1,2}(\.[0-9]{1,3})?`).Draw(d.t, what), d.unit)
}

// short draws a length before any line.
func (d drawn) short(what string) domain.Distance {
	return length(d.t, rapid.StringMatching(`[1-9](\.[0-9]{1,3})?`).Draw(d.t, what), d.unit)
}

// far is a length past any line, or none.
func (d drawn) far(what string) domain.Distance {
	if d.yes(what) {
		return length(d.t, "1000", d.unit)
	}
	return domain.Distance{}
}

func (d drawn) share(what string) domain.TrackShare {
	share, err := domain.ParseTrackShare(rapid.SampledFrom([]string{"1/3", "1/2", "99/100"}).Draw(d.t, what))
	require.NoError(d.t, err)
	return share
}

// among draws one of the values from 0 on.
func among[T ~uint8](d drawn, last T, what string) T { return T(d.upTo(int(last), what)) }

func (d drawn) measure() domain.MeasureRule {
	least := []string{"", "1 in", "0.50 ft"}
	if d.unit == domain.Metre {
		least = []string{"", "0.02 m"}
	}
	rule := domain.MeasureRule{From: d.words("measured to"), Decimals: d.upTo(3, "decimals")}
	if s := rapid.SampledFrom(least).Draw(d.t, "measurable"); s != "" {
		rule.Minimum = length(d.t, s, 0)
	}
	return rule
}

func (d drawn) entries() domain.EntryRule {
	rule := domain.EntryRule{VehicleTwice: among(d, domain.PlacesOnce, "vehicle twice"), Least: d.upTo(5, "least")}
	if rule.Least > 0 {
		rule.Below = d.words("below")
	}
	return rule
}

func (d drawn) call() domain.CallRule {
	rule := domain.CallRule{Minutes: d.upTo(3, "minutes"), NotReady: among(d, domain.ForfeitsTurn, "not ready"), DropOnce: d.yes("drop once")}
	if rule.Minutes > 0 {
		rule.From = d.words("time from")
	}
	return rule
}

// options draws options without doubles.
func (d drawn) options(what string, from ...domain.Option) []domain.Option {
	list := rapid.SliceOfNDistinct(rapid.SampledFrom(from), 0, 3, rapid.ID[domain.Option]).Draw(d.t, what)
	if len(list) == 0 {
		return nil
	}
	return list
}

// restart draws the restart line, as a distance, a share, by kinds, or none. What is meant without a field is not drawn:
// a document leaves it out.
func (d drawn) restart(r *domain.RuleSet) {
	switch d.upTo(3, "restart line") {
	case 1:
		r.RestartLine = d.short("restart line")
	case 2:
		r.Restarts.Share = d.share("restart share")
	}
	for _, kind := range []string{"tractor", "big truck"} {
		if d.yes(kind) {
			r.Restarts.Kinds = append(r.Restarts.Kinds, domain.KindLine{Kind: kind, Line: d.short("line of a kind")})
		}
	}
	if r.RestartMark().IsZero() && len(r.Restarts.Kinds) == 0 {
		return
	}
	r.Restarts.Attempts, r.Restarts.Throttle = rapid.SampledFrom([]int{0, 3, 9}).Draw(d.t, "attempts"), d.yes("throttle")
	if r.Restarts.Options = d.options("starts again", domain.AtOnce, domain.ToLast, 2, 7); slices.Equal(r.Restarts.Options, []domain.Option{domain.AtOnce}) {
		r.Restarts.Options = nil
	}
}

func (d drawn) test() domain.TestRule {
	rule := domain.TestRule{Who: among(d, domain.TestSession, "test puller"), NoRestart: d.yes("no restart on the test hook"), LostPartFree: d.yes("lost part")}
	can := []domain.Option{domain.ToLast, domain.AtOnce, 2, 3, 127}
	switch rule.Who {
	case domain.TestSession:
		rule.NoRestart = false
		return rule
	case domain.ChosenPuller:
		can = append(can, domain.ToOriginal)
	}
	if rule.Options = d.options("options", can...); len(rule.Options) == 0 {
		return rule
	}
	rule.Until, rule.BeforeDistance, rule.AfterDQ = d.words("until"), d.yes("before the distance"), d.yes("after DQ")
	switch rule.Must = len(rule.Options) == 1 && d.yes("must"); {
	case !rule.Must && d.yes("silence"):
		rule.Silence = rule.Options[0]
	}
	return rule
}

func (d drawn) reasons(restarts bool) domain.ReasonRule {
	rule := domain.ReasonRule{SideLinesTo: d.far("side lines")}
	of := make(map[domain.Cause]domain.Consequence)
	for _, cause := range domain.Causes() {
		q := domain.LastPlace + among(d, domain.NoConsequence-domain.LastPlace, "consequence")
		if q != domain.NoDistance && (q != domain.AttemptLost || restarts) {
			of[cause] = q
		}
	}
	if len(of) > 0 && d.yes("reasons") {
		rule.Of = of
	}
	return rule
}

func (d drawn) speed() domain.SpeedRule {
	if d.yes("no speed limit") {
		return domain.SpeedRule{}
	}
	limit, err := domain.ParseSpeed(rapid.SampledFrom([]string{"2.75 mph", "6 km/h"}).Draw(d.t, "limit"))
	require.NoError(d.t, err)
	rule := domain.SpeedRule{Limit: limit, Warnings: d.upTo(9, "warnings"), Device: d.words("device"), NoOwnDevice: d.yes("no device of one's own")}
	switch d.upTo(2, "limit from") {
	case 1:
		rule.From.Distance = d.short("limit from")
	case 2:
		rule.From.Share = d.share("limit from")
	}
	return rule
}

func (d drawn) ready() []string {
	return [][]string{nil, {"hitch height measured"}, {"neutral light white", "lanes clear"}}[d.upTo(2, "ready")]
}

func (d drawn) pullOff() domain.PullOffRule {
	rule := domain.PullOffRule{
		Who: among(d, domain.Nobody, "who comes back"), Capped: d.yes("pull-off capped"), Line: d.far("line of the pull-off"), Reversed: d.yes("reversed"),
		Added: d.yes("added"), Absent: domain.LastOfPullOff + among(d, domain.Withdrawn-domain.LastOfPullOff, "absent"), DisqualifiedOut: d.yes("disqualified out"),
		SecondAttempt: d.yes("second attempt"), SameDriver: d.yes("same driver"), Before: d.words("before"),
	}
	switch {
	case rule.Who == domain.TopPlaces:
		rule.Top = 2 + d.upTo(4, "top")
	case rule.Who == domain.FullPullers && d.yes("filled up"):
		rule.FillTo = 2 + d.upTo(4, "filled up to")
	}
	return rule
}

func (d drawn) ties(r domain.RuleSet) domain.TieRule {
	switch rule := (domain.TieRule{Ties: among(d, domain.NextBest, "ties")}); {
	case rule.Ties == domain.PulledAgain:
		rule.Places = d.upTo(3, "places")
		return rule
	case rule.Ties == domain.NextBest && (r.Rounds < 2 || r.Count != domain.BestOf):
		return domain.TieRule{}
	default:
		return rule
	}
}

// ruleSets draws any rule set that holds, with a value for every field.
func ruleSets() *rapid.Generator[domain.RuleSet] {
	return rapid.Custom(func(t *rapid.T) domain.RuleSet {
		d := drawn{t, rapid.SampledFrom([]domain.Unit{domain.Foot, domain.Inch, domain.Metre}).Draw(t, "unit")}
		r := domain.RuleSet{
			Name: "ours", Title: d.words("title"), Line: d.line("line"), Measure: d.measure(), Capped: d.yes("cap"), Rounds: 1 + d.upTo(8, "rounds"),
			Count: domain.BestOf + among(d, domain.SumOf-domain.BestOf, "counts"), Entries: d.entries(), Call: d.call(),
			Order: domain.OrderRule{By: among(d, domain.ByOrganiser, "order"), ClosedAtStart: d.yes("closed")}, Test: d.test(),
			RehookDrop: d.upTo(9, "rehook drop"), RehookMinutes: d.upTo(9, "rehook minutes"), DropPlaces: d.upTo(9, "drop"),
			Reset: domain.Restart + among(d, domain.NoReset-domain.Restart, "reset"), Speed: d.speed(), Ready: d.ready(), Stopped: among(d, domain.AsPulled, "stopped"),
		}
		d.restart(&r)
		r.Reasons, r.Ties = d.reasons(!r.RestartMark().IsZero() || len(r.Restarts.Kinds) > 0), d.ties(r)
		if r.Capped {
			r.PullOff = d.pullOff()
		}
		if d.yes("the line moves") {
			r.Moving = domain.LineRule{Choices: []domain.Distance{d.line("choice"), d.line("choice")}, After: 1 + d.upTo(8, "by")}
		}
		if r.Reset != domain.NoReset {
			r.ResetWhen.Past = d.far("reset past")
			if r.Capped {
				r.ResetWhen.FullPulls = d.upTo(3, "full pulls")
			}
		}
		r.Points, r.Purse = pointsRules().Draw(t, "points"), purseRules().Draw(t, "purse")
		r.Protest = rapid.SampledFrom([]domain.ProtestRule{{}, {Minutes: 5}, {Minutes: 1440, Fee: "$50", Decides: "the board"}, {Until: "before trophies"}}).Draw(t, "protest")
		r.Weight = d.weight()
		require.NoError(t, r.Check())
		return r
	})
}
