package doc

import (
	"slices"

	"clayline/domain"
)

// testPuller is the test hook and the choice after it. "keep" may be among the options or not; it is always one, unless the
// test puller must hook again.
type testPuller struct {
	Who            string   `json:"who,omitempty"`
	Options        []string `json:"options,omitempty"`
	Must           bool     `json:"must,omitempty"`
	Until          string   `json:"until,omitempty"`
	Silence        string   `json:"silence,omitempty"`
	BeforeDistance bool     `json:"before_distance,omitempty"`
	AfterDQ        bool     `json:"after_dq,omitempty"`
	NoRestart      bool     `json:"no_restart,omitempty"`
	LostPartFree   bool     `json:"lost_part_free,omitempty"`
}

// rule leaves the deadline and what else hangs on a choice out where there is none beside keep, so that two documents
// that mean the same give the same value.
func (g *testPuller) rule(f *ruleValues) domain.TestRule {
	if g == nil {
		g = &testPuller{}
	}
	rule := domain.TestRule{Who: word(f, "test_puller.who", g.Who, "first", testWords), NoRestart: g.NoRestart, LostPartFree: g.LostPartFree}
	silence := f.option("test_puller.silence", g.Silence)
	rule.Options = slices.DeleteFunc(f.options("test_puller.options", g.Options), func(o domain.Option) bool { return o == domain.Keep })
	if len(rule.Options) == 0 {
		rule.Options = nil
		switch {
		case g.Must:
			f.refuse(withoutOption("test_puller.must"))
		case silence != 0 && silence != domain.Keep:
			f.refuse(withoutOption("test_puller.silence"))
		}
		return rule
	}
	rule.Must, rule.Until, rule.BeforeDistance, rule.AfterDQ = g.Must, g.Until, g.BeforeDistance, g.AfterDQ
	// Silence that keeps, or that takes the one option there is, is what silence is, and is said by nothing.
	if rule.Silence = silence; silence == domain.Keep && !g.Must || g.Must && slices.Equal(rule.Options, []domain.Option{silence}) {
		rule.Silence = 0
	}
	return rule
}

// withoutOption refuses a field that lets a test puller hook again where there is no option to do so by.
func withoutOption(field string) error {
	return &domain.Error{Kind: domain.Invalid, Field: field, Also: "test_puller.options",
		Message: "a test puller who hooks again needs an option (" + field + " against test_puller.options)", Fix: "write one, such as last, or leave " + field + " out"}
}

func writeTestPuller(r domain.TestRule) *testPuller {
	return &testPuller{Who: wordFor(testWords, r.Who), Options: optionWords(r.Options), Must: r.Must, Until: r.Until, Silence: r.Silence.String(),
		BeforeDistance: r.BeforeDistance, AfterDQ: r.AfterDQ, NoRestart: r.NoRestart, LostPartFree: r.LostPartFree}
}
