package doc_test

import (
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/doc"
)

// fieldsOf lists the fields of a rule set, those of its groups behind the group's name.
func fieldsOf(of reflect.Type, path string) []string {
	var fields []string
	for f := range of.Fields() {
		if f.Type.Kind() == reflect.Struct && f.Type != reflect.TypeFor[domain.Distance]() {
			fields = append(fields, fieldsOf(f.Type, path+f.Name+".")...)
			continue
		}
		fields = append(fields, path+f.Name)
	}
	return fields
}

// compared is a set in which every field has a meaning.
func compared(t testing.TB) domain.RuleSet {
	r := set(t, "capped-300ft")
	require.True(t, r.Capped)
	require.NotEmpty(t, r.Test.Options)
	return r
}

// Every field of a rule set, different once, is one sentence. A new field fails here until it has one.
func TestEveryFieldThatDiffersIsExplained(t *testing.T) {
	t.Parallel()
	differences := map[string]struct {
		change func(*domain.RuleSet)
		says   string
	}{
		"Name":  {func(r *domain.RuleSet) { r.Name = "ours" }, "One set is called capped-300ft, the other ours."},
		"Title": {func(r *domain.RuleSet) { r.Title = "" }, `In A the title is "300 ft, full pulls return for a pull-off"; in B it is left out.`},
		"Line": {func(r *domain.RuleSet) { r.Line = length(t, "100", domain.Metre) },
			"In A the class is measured in feet, and the full-pull line lies at 300 ft; in B it is measured in metres, and the full-pull line lies at 100 m."},
		"Capped": {func(r *domain.RuleSet) { r.Capped, r.PullOff = false, domain.PullOffRule{} },
			"In A the line caps class pulls: at or past it all are equal, and two or more full pullers come back for a pull-off; " +
				"in B it caps nothing: the figure counts wherever the sled stops, and there is no pull-off."},
		"Rounds": {func(r *domain.RuleSet) { r.Rounds = 2 }, "In A a class has 1 class round; in B it has 2 class rounds."},
		"Count": {func(r *domain.RuleSet) { r.Count = domain.SumOf },
			"In A the class total is the best of the class rounds; in B it is the sum of the class rounds."},
		"PullOff.Capped": {func(r *domain.RuleSet) { r.PullOff.Capped = true },
			"In A a pull-off is measured past the line; in B it ends at the line again, and whoever is still equal pulls once more."},
		"PullOff.Added": {func(r *domain.RuleSet) { r.PullOff.Added = true },
			"In A the distance of a pull-off is not added to the printed total; in B it is added to the printed total."},
		"PullOff.Absent": {func(r *domain.RuleSet) { r.PullOff.Absent = domain.Withdrawn },
			"In A an absent finalist is last of the pull-off; in B an absent finalist counts as withdrawn and has no place."},
		"PullOff.SecondAttempt": {func(r *domain.RuleSet) { r.PullOff.SecondAttempt = true },
			"In A the restart line does not hold in pull-offs; in B it holds in pull-offs too."},
		"RestartLine": {func(r *domain.RuleSet) { r.RestartLine = domain.Distance{} },
			"In A an attempt may be repeated once when it stops short of 75 ft; in B it is never repeated, wherever it stops."},
		"Test.Options": {func(r *domain.RuleSet) { r.Test.Options = []domain.Option{3, domain.AtOnce} },
			"In A the test puller may keep the result or hook again at the end; " +
				"in B the test puller may keep the result or hook again in place 3 from now or at once."},
		"Test.Until": {func(r *domain.RuleSet) { r.Test.Until = "" },
			`In A the choice must be made "before unhooking"; in B it has no deadline in words.`},
		"Test.AfterDQ": {func(r *domain.RuleSet) { r.Test.AfterDQ = false },
			"In A a disqualified test puller still has the choice; in B a disqualified one has lost the choice."},
		"RehookDrop": {func(r *domain.RuleSet) { r.RehookDrop = 0 },
			"In A a puller whose re-hook the sled or an official caused may drop up to 4 places to cool down; in B such a puller hooks again at once."},
		"DropPlaces": {func(r *domain.RuleSet) { r.DropPlaces = 1 },
			"In A a puller in mechanical trouble drops to the last place; in B such a puller may drop 1 place."},
		"Reset": {func(r *domain.RuleSet) { r.Reset = domain.KeepHooks },
			"In A a reset of the sled makes the round start again; in B it leaves earlier hooks of the round as they are."},
	}
	fields := fieldsOf(reflect.TypeFor[domain.RuleSet](), "")
	assert.Len(t, differences, len(fields))
	for _, field := range fields {
		t.Run(field, func(t *testing.T) {
			t.Parallel()
			difference, ok := differences[field]
			require.True(t, ok, "the field has no sentence")
			other := compared(t)
			difference.change(&other)
			assert.Equal(t, []string{difference.says}, doc.DiffRuleSets("A", compared(t), "B", other))
			assert.Len(t, doc.DiffRuleSets("B", other, "A", compared(t)), 1)
		})
	}
}

func TestATestHookWithoutAChoiceIsExplained(t *testing.T) {
	t.Parallel()
	none := compared(t)
	none.Test = domain.TestRule{}
	assert.Equal(t, []string{"In A the test puller may keep the result or hook again at the end; " +
		"in B the test puller has no choice: the hook counts like any other."}, doc.DiffRuleSets("A", compared(t), "B", none))
}

// Two sets have no difference exactly when they are the same.
func TestNothingThatDiffersIsLeftUnsaid(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b := ruleSets().Draw(t, "a"), ruleSets().Draw(t, "b")
		require.Empty(t, doc.DiffRuleSets("A", a, "B", a))
		require.Equal(t, reflect.DeepEqual(a, b), len(doc.DiffRuleSets("A", a, "B", b)) == 0)
	})
}
