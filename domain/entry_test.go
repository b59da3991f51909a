package domain_test

import (
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

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

// A number is called out, painted, printed and part of an address: letters, digits, blanks and hyphens, as on vehicles.
func TestTheNumberOfAnEntry(t *testing.T) {
	t.Parallel()
	for typed, number := range map[string]string{"41": "41", " 7b ": "7b", "ZB 12": "ZB 12", "12-2": "12-2", "Ä5": "Ä5", "٤١": "٤١", "क्7": "क्7", "": "", "123456789": "123456789"} {
		read, err := domain.NewNumber(typed)
		require.NoError(t, err, typed)
		assert.Equal(t, number, read, "how long it may be is for the decision")
	}
	for typed, sign := range map[string]string{"/..": "/", "..": ".", "#7": "#", "7;8": ";", "41,7": ",", "=1": "=", "-": "-", "-7": "-", "7-": "-", "7/b": "/", "7%": "%", "5½": "½", "7🚜": "🚜", "<b>": "<", "\u06127": "\u0612"} {
		_, err := domain.NewNumber(typed)
		var refusal *domain.Error
		require.ErrorAs(t, err, &refusal, typed)
		assert.Equal(t, []string{"number", fmt.Sprintf("%q cannot stand in the number of a vehicle there", sign)}, []string{refusal.Field, refusal.Message})
		assert.NotEmpty(t, refusal.Fix)
	}
	_, err := domain.NewNumber("7\u202e")
	require.ErrorContains(t, err, "a character that cannot be seen")
	s := plan(t, set(t, "capped-300ft"))
	s.enter("5/8")
	assert.Equal(t, "5/8", s.class.Entries[0].Number, "a number that was stored before is read as it is")
}

// A number that is taken can stand in an address by itself: no sign of it means anything there.
func TestANumberMeansNothingElseInAnAddress(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		number, err := domain.NewNumber(rapid.StringOfN(rapid.RuneFrom([]rune("ab7 -/.?#%;"), unicode.L, unicode.Nd), 1, 8, -1).Draw(t, "typed"))
		if err != nil {
			return
		}
		require.NotContains(t, []string{".", ".."}, number)
		require.False(t, strings.ContainsAny(number, "/\\?#%;,.:@&=+$<>'\"`|"), number)
	})
}

// A text that is too long is told by how much, since the program may have put words of its own before it.
func TestATextThatIsTooLongSaysByHowMuch(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft"), "41")
	dq := func(reason string) domain.Action {
		return domain.Record{Hook: s.class.OnTrack().ID, Result: domain.Result{Outcome: domain.Disqualified, Reason: reason}, Next: s.id()}
	}
	s.refuse(dq(strings.Repeat("x", 213)), domain.Invalid, "the text is longer than 200 characters; shorten it by 13")
	s.refuse(dq("out of bounds: "+strings.Repeat("é", 190)), domain.Invalid, "the text is longer than 200 characters; shorten it by 5")
	s.do(dq(strings.Repeat("é", 200)))
}
