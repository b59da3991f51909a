package postgres_test

import (
	"crypto/rand"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/postgres"
)

// Who came and who paid another process reads as this one left it, before the draw and after it.
func TestAttendanceIsStored(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7")
	other, err := postgres.Open(d.ctx, d.url)
	require.NoError(t, err)
	t.Cleanup(other.Close)
	elsewhere := desk.New(other, d.now, rand.Reader)
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	first, second := page.Class.Entries[0].ID, page.Class.Entries[1].ID
	same := func(c domain.Class) {
		t.Helper()
		read, err := elsewhere.ClassPage(d.ctx, d.ref)
		require.NoError(t, err)
		require.Equal(t, c, read.Class)
	}
	paid := domain.Attendance{Came: true, Fee: 2050, Paid: true}
	same(d.must(domain.Attend{Entries: []domain.Attended{{Entry: first, Attendance: paid}, {Entry: second, Attendance: domain.Attendance{Guest: true}}}}))
	d.begin()
	c := d.must(domain.Attend{Entries: []domain.Attended{{Entry: second, Attendance: domain.Attendance{}}}})
	same(c)
	require.Equal(t, paid, c.Entry(first).Attendance)
	require.Zero(t, c.Entry(second).Attendance)

	_, err = d.sql("").Exec(d.ctx, `UPDATE entry SET fee = -1`)
	refused(t, err, "fee_is_an_amount")
}
