package desk

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// morning is when the passes of these tests are made.
var morning = time.Date(2026, 9, 19, 8, 0, 0, 0, time.UTC)

func TestALinkIsGoodUntilItIsUsedOrOld(t *testing.T) {
	t.Parallel()
	fresh := Pass{Issued: morning, Expires: morning.Add(linkLife)}
	used, withdrawn := fresh, fresh
	used.Used = morning.Add(time.Hour)
	withdrawn.Ended, withdrawn.Revoked = morning.Add(time.Hour), true
	for _, row := range []struct {
		what string
		pass Pass
		at   time.Time
		says string
	}{
		{"at once", fresh, morning, ""},
		{"at its last moment", fresh, morning.Add(48 * time.Hour), ""},
		{"a moment later", fresh, morning.Add(48*time.Hour + time.Microsecond), "this link is too old; ask the desk for a new one"},
		{"when it was withdrawn", withdrawn, morning.Add(2 * time.Hour), "this link was withdrawn by the desk; ask the desk for a new one"},
		{"when it was used", used, morning.Add(2 * time.Hour), "this link was used already, and a link lets one device in; ask the desk for a new one"},
		{"when it was used, long ago", used, morning.Add(999 * time.Hour), "this link was used already, and a link lets one device in; ask the desk for a new one"},
	} {
		err := row.pass.usable(row.at)
		if row.says == "" {
			assert.NoError(t, err, row.what)
			continue
		}
		assert.EqualError(t, err, row.says, row.what)
		assert.Equal(t, domain.WrongState, domain.KindOf(err), row.what)
	}
}

func TestAPassIsItsHoldersForAWhile(t *testing.T) {
	t.Parallel()
	p := Pass{ID: uuid.New(), Event: uuid.New(), Role: domain.Booth, Used: morning, Device: "laptop"}
	by := By{Pass: p.ID, Role: domain.Booth, Event: p.Event, Device: "laptop"}
	holds := func(at time.Time, holder Holder) By {
		t.Helper()
		by, err := p.holds(at, holder)
		require.NoError(t, err)
		return by
	}
	assert.Equal(t, by, holds(morning, Browser))
	assert.Equal(t, by, holds(p.Lasts(), Browser))
	assert.Equal(t, morning.Add(96*time.Hour), p.Lasts())
	assert.Zero(t, holds(p.Lasts().Add(time.Microsecond), Browser), "then it is nobody's")
	assert.Zero(t, holds(morning, Client), "a browser's secret is no program's")
	p.Bearer = true
	assert.Equal(t, by, holds(morning, Client))
	assert.Zero(t, holds(morning, Browser), "nor the other way round")
}

func TestAPassThatEndedSaysSo(t *testing.T) {
	t.Parallel()
	p := Pass{ID: uuid.New(), Role: domain.Booth, Used: morning, Ended: morning.Add(time.Hour)}
	for revoked, says := range map[bool]string{
		false: "the pass of this device was given back; if it should go on, ask the desk for a new entry link",
		true:  "the desk took the pass of this device away; if it should go on, ask the desk for a new entry link",
	} {
		p.Revoked = revoked
		by, err := p.holds(morning.Add(2*time.Hour), Browser)
		require.EqualError(t, err, says)
		assert.Equal(t, domain.Forbidden, domain.KindOf(err))
		assert.Zero(t, by)
		by, err = p.holds(morning.Add(2*time.Hour), Client)
		require.NoError(t, err, "who only found the secret is told nothing")
		assert.Zero(t, by)
	}
}

func TestWhoMay(t *testing.T) {
	t.Parallel()
	here, there := uuid.New(), uuid.New()
	for _, row := range []struct {
		what string
		by   By
		says string
	}{
		{"the booth of this event", By{Role: domain.Booth, Event: here}, ""},
		{"the desk of this event", By{Role: domain.Desk, Event: here}, ""},
		{"the desk of all events", By{Role: domain.Desk}, ""},
		{"the program", Program(), ""},
		{"the cab of this event", By{Role: domain.Cab, Event: here}, "this needs a pass for the desk or booth; ask the desk for an entry link"},
		{"nobody", By{}, "this needs a pass for the desk or booth; ask the desk for an entry link"},
		{"the booth of another event", By{Role: domain.Booth, Event: there}, "this pass is for another event; ask the desk of this event for an entry link"},
	} {
		err := row.by.may(domain.Desk|domain.Booth, here)
		if row.says == "" {
			assert.NoError(t, err, row.what)
			continue
		}
		assert.EqualError(t, err, row.says, row.what)
		assert.Equal(t, domain.Forbidden, domain.KindOf(err), row.what)
	}
}

func TestTheNameOfADevice(t *testing.T) {
	t.Parallel()
	for typed, kept := range map[string]string{
		"": "", "laptop by the tower": "laptop by the tower", "  laptop ": "laptop", "two\nlines\tand a tab": "two lines and a tab",
		"\x00\x07": "", "bad \xff bytes": "bad   bytes", "Kläranlage Süd": "Kläranlage Süd",
		strings.Repeat("ü", 50): strings.Repeat("ü", 40), strings.Repeat("x", 39) + " y": strings.Repeat("x", 39),
	} {
		assert.Equal(t, kept, cleanDevice(typed), "%q", typed)
	}
}

func TestSecretsAreLongAndNeverTheSame(t *testing.T) {
	t.Parallel()
	d := New(nil, func() time.Time { return morning }, strings.NewReader(strings.Repeat("a", secretBytes)+strings.Repeat("b", secretBytes)+"short"))
	one, hashOne, err := d.newSecret()
	require.NoError(t, err)
	two, hashTwo, err := d.newSecret()
	require.NoError(t, err)
	assert.Len(t, one, 32)
	assert.NotEqual(t, one, two)
	assert.Equal(t, hashOf(one), hashOne)
	assert.NotEqual(t, hashOne, hashTwo)
	_, _, err = d.newSecret()
	require.ErrorContains(t, err, "no randomness for a secret", "rather none than a weak one")
}

// The passes of the last minute are remembered, so that an action needs no extra trip; no more than there is room for.
func TestTheMemoryOfPasses(t *testing.T) {
	t.Parallel()
	m := newMemory()
	p := Pass{ID: uuid.New()}
	m.put("secret", p, morning)
	got, known := m.get("secret", morning.Add(memoryLife-1))
	assert.True(t, known)
	assert.Equal(t, p, got)
	_, known = m.get("secret", morning.Add(memoryLife))
	assert.False(t, known, "after a minute it is looked up again")
	_, known = m.get("another", morning)
	assert.False(t, known)
	for i := range 3 * memorySize {
		m.put(strings.Repeat("x", i), Pass{}, morning)
		require.LessOrEqual(t, len(m.passes), memorySize)
	}
}

// An action id says what was done with it: the same again is the same answer, anything else is refused.
func TestAnActionIDIsForOneThing(t *testing.T) {
	t.Parallel()
	class := uuid.New()
	done := Line{Number: 7, Kind: "scratch", Subject: class, Payload: []byte(`{"Reason":"clutch"}`), At: morning}
	assert.NoError(t, done.sameAs("scratch", class, []byte(`{"Reason":"clutch"}`)))
	for what, err := range map[string]error{
		"other content": done.sameAs("scratch", class, []byte(`{"Reason":"gears"}`)),
		"another kind":  done.sameAs("draw", class, []byte(`{"Reason":"clutch"}`)),
		"another class": done.sameAs("scratch", uuid.New(), []byte(`{"Reason":"clutch"}`)),
	} {
		assert.Equal(t, domain.Stale, domain.KindOf(err), what)
		assert.EqualError(t, err, "this form was sent before with other content; reload the page and send it again", what)
	}
}
