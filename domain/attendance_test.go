package domain_test

import (
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// attends says of a number what the desk knows.
func (s *story) attends(number string, a domain.Attendance) domain.Attended {
	s.t.Helper()
	return domain.Attended{Entry: s.entry(number), Attendance: a}
}

func TestTheDeskWritesDownWhoCameAndPaid(t *testing.T) {
	t.Parallel()
	s := drawn(t, set(t, "floating-m"), "41", "7", "23")
	paid := domain.Attendance{Came: true, Fee: 2000, Paid: true}
	guest := domain.Attendance{Guest: true, Came: true}
	s.do(domain.Attend{Entries: []domain.Attended{s.attends("41", paid), s.attends("7", guest)}})
	assert.Equal(t, paid, s.class.Entry(s.entry("41")).Attendance)
	assert.Equal(t, guest, s.class.Entry(s.entry("7")).Attendance)
	assert.Zero(t, s.class.Entry(s.entry("23")).Attendance, "who is not in the list keeps what was known")

	s.do(domain.Scratch{Entry: s.entry("23"), Reason: "engine"})
	s.do(domain.Attend{Entries: []domain.Attended{s.attends("23", domain.Attendance{Came: true}), s.attends("7", domain.Attendance{})}})
	assert.True(t, s.class.Entry(s.entry("23")).Came, "who came and was scratched came all the same")
	assert.Zero(t, s.class.Entry(s.entry("7")).Attendance, "a slip is taken back")
	assert.Equal(t, paid, s.class.Entry(s.entry("41")).Attendance)
	require.Equal(t, s.class, s.replayed())
}

func TestAttendanceThatIsRefused(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "floating-m"), "41", "7")
	came := s.attends("41", domain.Attendance{Came: true})
	s.refuse(domain.Attend{}, domain.Invalid, "nothing is said of any entry")
	s.refuse(domain.Attend{Entries: []domain.Attended{came, came}}, domain.Invalid, "number 41 stands twice")
	s.refuse(domain.Attend{Entries: []domain.Attended{came, {Entry: uuid.UUID{15: 99}}}}, domain.NotFound, "no such entry")
	for _, fee := range []domain.Money{-1, 1_000_000_001} {
		s.refuse(domain.Attend{Entries: []domain.Attended{s.attends("7", domain.Attendance{Fee: fee})}}, domain.Invalid, "is no fee")
	}
	assert.Zero(t, s.class.Entry(s.entry("41")).Attendance, "all of a list or nothing")

	s.all("1", "90 80")
	s.do(domain.Attend{Entries: []domain.Attended{came}})
	s.do(domain.MakeOfficial{Name: "O. Example"})
	s.refuse(domain.Attend{Entries: []domain.Attended{came}}, domain.WrongState, "official")
}
