package domain_test

import (
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"

	"clayline/domain"
)

func TestAVehicleIsEnteredOnceInAClass(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	s.do(domain.AddEntry{Entry: s.id(), Number: " 41B ", Details: domain.Details{Puller: " A. Example ", Vehicle: "Grey Mare", Home: "Tarn Hollow"}})
	e := s.class.Entries[0]
	assert.Equal(t, "41B", e.Number)
	assert.Equal(t, domain.Details{Puller: "A. Example", Vehicle: "Grey Mare", Home: "Tarn Hollow"}, e.Details)
	assert.False(t, e.Late)
	same := domain.AddEntry{Entry: s.id(), Number: "41b", Details: domain.Details{Puller: "A. Example"}}
	s.refuse(same, domain.Invalid, "number 41b is already entered in this class")
	// One driver, two vehicles: the vehicle is what places (E8).
	s.do(domain.AddEntry{Entry: s.id(), Number: "42", Details: domain.Details{Puller: "A. Example"}})
	assert.Len(t, s.class.Entries, 2)
}

func TestAnEntryMustBeReadable(t *testing.T) {
	t.Parallel()
	s := plan(t, set(t, "capped-300ft"))
	puller := domain.Details{Puller: "A. Example"}
	for says, broken := range map[string]domain.AddEntry{
		"the number of the vehicle is missing": {Number: " ", Details: puller},
		"more than eight characters":           {Number: "123456789", Details: puller},
		"the name of the puller is missing":    {Number: "41"},
		"longer than 200 characters":           {Number: "41", Details: domain.Details{Puller: strings.Repeat("x", 201)}},
		"the text cannot be read":              {Number: "41", Details: domain.Details{Puller: "A", Vehicle: "\xff"}},
	} {
		broken.Entry = s.id()
		s.refuse(broken, domain.Invalid, says)
	}
	s.refuse(domain.AddEntry{Number: "41", Details: domain.Details{Puller: "A", Home: strings.Repeat("x", 201)}}, domain.Invalid, "longer than 200")
	assert.Empty(t, s.class.Entries)
}

func TestAnEntryIsFoundByItsID(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "capped-300ft"), "41", "7")
	assert.Equal(t, "7", s.class.Entry(s.entry("7")).Number)
	assert.Zero(t, s.class.Entry(uuid.Nil))
}
