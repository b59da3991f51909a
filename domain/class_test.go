package domain_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

func TestAClassIsPlannedOnce(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	assert.Equal(t, "8200-lb-field-stock", s.class.Slug)
	assert.Equal(t, domain.Entering, s.class.Phase())
	s.refuse(domain.PlanClass{Class: s.id(), Name: "Another", Rules: s.class.Rules}, domain.WrongState, "planned already")
}

func TestAClassNeedsANameAndRulesThatHold(t *testing.T) {
	t.Parallel()
	for says, broken := range map[string]domain.PlanClass{
		"the name of the class is missing": {Rules: set(t, "capped-300ft")},
		"has no letter or figure":          {Name: "!!", Rules: set(t, "capped-300ft")},
		"the rule set has no name":         {Name: "Farm stock"},
	} {
		_, err := domain.Decide(domain.Class{}, broken, time.Time{})
		require.ErrorContains(t, err, says)
		assert.Equal(t, domain.Invalid, domain.KindOf(err))
	}
	_, err := domain.Decide(domain.Class{}, domain.Call{}, time.Time{})
	require.ErrorContains(t, err, "there is no such class")
	assert.Equal(t, domain.NotFound, domain.KindOf(err))
}

// A clone shares nothing that an action may change.
func TestACloneIsACopy(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7")
	before, clone := snapshot(t, s.class), s.class.Clone()
	clone.Entries[0].Scratched = "x"
	clone.Draw.Order[0] = uuid.Nil
	clone.Rounds[0].Lineup[0].Out = true
	clone.Rounds[0].Revisions[0].Reason = "x"
	clone.Rounds[0].Hooks[0].Corrected = "x"
	assert.Equal(t, before, snapshot(t, s.class))
}

func TestHooksAreFoundInEveryRound(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-100m"), "41", "7")
	s.pulls("41", "FP")
	s.pulls("7", "FP")
	s.opens("P1", "41", "7")
	r, h := s.class.Find(s.hook("7", "1").ID)
	require.NotNil(t, h)
	assert.Equal(t, "1", r.Name.String())
	assert.Equal(t, s.entry("7"), h.Entry)
	r, h = s.class.Find(uuid.Nil)
	assert.Nil(t, r)
	assert.Nil(t, h)
	assert.Zero(t, s.class.Rounds[0].ResultOf(uuid.Nil))
	assert.Equal(t, "FP", s.class.Rounds[0].ResultOf(s.entry("7")).String())
}

// The worked example of the package comment.
func TestTheSmallClassOfTheManual(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41", "7", "23")
	s.pulls("41", "281.36")
	s.chooses("41", "keep")
	s.pulls("7", "FP")
	s.pulls("23", "FP")
	assert.Equal(t, domain.PullOffDue, s.class.Phase())
	s.opens("P1", "7", "23")
	s.pulls("7", "312.44")
	s.pulls("23", "305.1")
	s.decided()
	s.stands("1 7", "2 23", "3 41")
	assert.Equal(t, s.class, s.replayed(), "the accepted actions from nothing give the class")
}

func TestANameThatIsTakenIsRefused(t *testing.T) {
	t.Parallel()
	require.NoError(t, domain.NameTaken("8,200 lb Farm Stock", []string{"8200-lb-field-stock"}))
	err := domain.NameTaken("8200 LB field stock", []string{"8200-lb-field-stock"})
	require.ErrorContains(t, err, "is taken here")
	require.Error(t, domain.NameTaken("Pits", nil), "the page of who waits")
	require.Error(t, domain.NameTaken("Desk", nil), "an address of the event's own pages")
}

func TestAddressesAreMadeOfNames(t *testing.T) {
	t.Parallel()
	for name, slug := range map[string]string{
		"8,200 lb Field Stock":       "8200-lb-field-stock",
		"  4.5 t  Standard ":         "45-t-standard",
		"Kläy & Söhne (Gästeklasse)": "kläy-söhne-gästeklasse",
		"Tarn's Hollow":              "tarns-hollow",
		"!!":                         "",
	} {
		assert.Equal(t, slug, domain.Slug(name), name)
	}
}

func TestActionsHaveNamesAndRoles(t *testing.T) {
	t.Parallel()
	seen := make(map[string]bool)
	for _, k := range domain.Kinds() {
		assert.False(t, seen[k.Name], "%s stands twice", k.Name)
		seen[k.Name] = true
		assert.Equal(t, k, domain.KindOfAction(k.Zero))
		assert.NotZero(t, k.Roles&domain.Desk, "the desk may do everything")
		if k.Roles&domain.Cab != 0 {
			assert.Contains(t, []string{"ready", "differed", "speed"}, k.Name, "the cab says what its crew sees and decides nothing")
		}
	}
	assert.Equal(t, domain.Desk|domain.Booth, domain.KindOfAction(domain.Record{}).Roles)
	assert.Equal(t, domain.Desk, domain.KindOfAction(domain.FreezeSetting{}).Roles)
	assert.Zero(t, domain.KindOfAction(nil))
}

func TestRolesHaveNames(t *testing.T) {
	t.Parallel()
	for _, role := range []domain.Role{domain.Desk, domain.Booth, domain.Cab, domain.Scale} {
		read, err := domain.ParseRole(role.String())
		require.NoError(t, err)
		assert.Equal(t, role, read)
	}
	assert.Equal(t, "desk or booth", (domain.Desk | domain.Booth).String())
	_, err := domain.ParseRole("owner")
	require.ErrorContains(t, err, "write desk, booth, cab, scale or lane")
}

func TestAnErrorSaysWhatHappenedAndWhatToDo(t *testing.T) {
	t.Parallel()
	cause := errors.New("the cause, for the log")
	err := &domain.Error{Kind: domain.Stale, Message: "somebody was faster", Fix: "look again", Cause: cause}
	assert.Equal(t, "somebody was faster; look again", err.Error())
	assert.NotContains(t, err.Error(), "cause")
	require.ErrorIs(t, err, cause)
	assert.Equal(t, domain.Stale, domain.KindOf(errors.Join(err)))
	assert.Zero(t, domain.KindOf(cause), "an internal fault")
	assert.Equal(t, "done", (&domain.Error{Message: "done"}).Error())
}
