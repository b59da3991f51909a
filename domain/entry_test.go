package domain_test

import (
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

func TestAVehicleIsEnteredOnceInAClass(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	details, err := domain.NewDetails(" A. Example ", "Grey Mare", "Tarn Hollow")
	require.NoError(t, err)
	s.do(domain.AddEntry{Entry: s.id(), Number: " 41B ", Details: details})
	e := s.class.Entries[0]
	assert.Equal(t, "41B", e.Number)
	assert.Equal(t, domain.Details{Puller: "A. Example", Vehicle: "Grey Mare", Home: "Tarn Hollow"}, e.Details)
	assert.False(t, e.Late)
	s.refuse(domain.AddEntry{Entry: s.id(), Number: "41b", Details: details}, domain.Invalid, "number 41b is already entered in this class")
	// One driver, two vehicles: the vehicle is what places (E8).
	s.do(domain.AddEntry{Entry: s.id(), Number: "42", Details: details})
	assert.Len(t, s.class.Entries, 2)
}

func TestTheNumberOfAnEntryMustBeReadable(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	for number, says := range map[string]string{
		" ": "the number of the vehicle is missing", "123456789": "more than eight characters", "\xff": "the text cannot be read",
		strings.Repeat("1", 201): "longer than 200 characters",
	} {
		s.refuse(domain.AddEntry{Entry: s.id(), Number: number}, domain.Invalid, says)
	}
	assert.Empty(t, s.class.Entries)
}

func TestWhatPeopleReadBesideANumberMustBeReadable(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("x", 201)
	for _, row := range []struct{ puller, vehicle, home, field, says string }{
		{" ", "", "", "puller", "the name of the puller is missing"},
		{long, "", "", "puller", "longer than 200 characters"},
		{"A", "\xff", "", "vehicle", "the text cannot be read"},
		{"A", "", long, "home", "longer than 200 characters"},
	} {
		_, err := domain.NewDetails(row.puller, row.vehicle, row.home)
		var refusal *domain.Error
		require.ErrorAs(t, err, &refusal)
		assert.Equal(t, row.field, refusal.Field)
		assert.Contains(t, refusal.Error(), row.says)
	}
}

func TestAnEntryIsFoundByItsID(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-300ft"), "41", "7")
	assert.Equal(t, "7", s.class.Entry(s.entry("7")).Number)
	assert.Zero(t, s.class.Entry(uuid.Nil))
}
