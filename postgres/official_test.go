package postgres_test

import (
	"io/fs"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/migrations"
)

// stored is the class as it is read back.
func (d *day) stored() domain.Class {
	d.t.Helper()
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(d.t, err)
	return page.Class
}

// A result is protested, corrected, signed, opened again and signed anew: what is read back is what was decided, and the
// journal gives it again but for the names.
func TestAResultIsProtestedSignedAndRevised(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-100m", "41", "7")
	c := d.begin()
	c = d.record(c, "88.20")
	c = d.record(c, "DQ lost part")
	hook := c.Current().Hooks[0]
	first, second := uuid.New(), uuid.New()
	d.must(domain.LodgeProtest{Protest: first, Entry: hook.Entry, Hook: hook.ID, About: "side line", Fee: true, By: "J. Weir"})
	c = d.must(domain.LodgeProtest{Protest: second, Entry: hook.Entry, About: "weights", By: "S. Whitlock"})
	require.Equal(t, c, d.stored())
	d.must(domain.DecideProtest{Protest: second, Ruling: domain.TakenBack})
	d.must(domain.DecideProtest{Protest: first, Ruling: domain.Upheld, Follows: domain.CorrectionFollows, Reason: "video"})
	d.must(domain.Correct{Hook: hook.ID, Result: domain.Result{Outcome: domain.FullPull}, Reason: "protest upheld: video", Next: uuid.New()})
	d.must(domain.MakeOfficial{Name: "Ada Flagg"})
	d.must(domain.Reopen{Reason: "another video"})
	d.must(domain.Correct{Hook: hook.ID, Result: domain.Result{Outcome: domain.Absent}, Reason: "another video", Next: uuid.New()})
	d.must(domain.MakeOfficial{Name: "Cy Holt"})
	c = d.must(domain.Reopen{Reason: "a third video"})
	require.Equal(t, c, d.stored())
	require.Len(t, c.Earlier, 2)
	assert.Equal(t, []string{"Ada Flagg", "Cy Holt"}, []string{c.Earlier[0].Name, c.Earlier[1].Name})

	lines := d.lines()
	chained(t, lines)
	replayed := replay(t, lines, c.ID)
	assert.Empty(t, replayed.Protests[0].By)
	assert.Empty(t, replayed.Earlier[0].Name)
	for _, of := range []*domain.Class{&c, &replayed} {
		*of = anonymous(*of)
		for i := range of.Protests {
			of.Protests[i].By = ""
		}
		for i := range of.Earlier {
			of.Earlier[i].Name = ""
		}
	}
	require.Equal(t, c, replayed)
	for _, l := range lines {
		for _, name := range []string{"Weir", "Whitlock", "Flagg", "Holt"} {
			assert.NotContains(t, string(l.Payload), name)
		}
	}
}

// The same protest sent twice is lodged once; the same with another name is refused.
func TestAProtestSentTwiceIsLodgedOnce(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-100m", "41")
	c := d.begin()
	c = d.record(c, "88.20")
	protest, action := domain.LodgeProtest{Protest: uuid.New(), Entry: c.Entries[0].ID, About: "weights", By: "J. Weir"}, uuid.New()
	for range 2 {
		receipt, err := d.desk.Act(d.ctx, organiser, d.ref, action, protest)
		require.NoError(t, err)
		require.Len(t, receipt.Class.Protests, 1)
	}
	protest.By = "S. Whitlock"
	_, err := d.desk.Act(d.ctx, organiser, d.ref, action, protest)
	require.Equal(t, domain.Stale, domain.KindOf(err))
}

// What the database holds by itself, whoever asks.
func TestADecidedProtestAndATakenSignatureStayAsTheyAre(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-100m", "41")
	c := d.begin()
	c = d.record(c, "88.20")
	id := uuid.New()
	d.must(domain.LodgeProtest{Protest: id, Entry: c.Entries[0].ID, About: "weights", By: "J. Weir"})
	d.must(domain.DecideProtest{Protest: id, Ruling: domain.Upheld, Reason: "video"})
	d.must(domain.MakeOfficial{Name: "Ada Flagg"})
	d.must(domain.Reopen{Reason: "video"})
	sql := d.sql("clayline_app")
	for _, statement := range []string{
		"UPDATE protest SET ruling = 'turned_down'", "UPDATE protest SET about = 'beer'", "DELETE FROM protest",
		"UPDATE signature SET reason = 'beer'", "DELETE FROM signature",
	} {
		_, err := sql.Exec(d.ctx, statement)
		require.Error(t, err, statement)
	}
	_, err := sql.Exec(d.ctx, "UPDATE protest SET lodged_by = ''")
	require.NoError(t, err, "a name can be erased")
	assert.Empty(t, d.stored().Protests[0].By)
}

// A result that was opened again before signatures were kept has what its journal knows: the times and the reason.
func TestEarlierSignaturesAreTakenFromTheJournal(t *testing.T) {
	t.Parallel()
	d := newDay(t, "capped-100m", "41")
	c := d.begin()
	d.record(c, "88.20")
	for _, reason := range []string{"video", "another video"} {
		d.must(domain.MakeOfficial{Name: "Ada Flagg"})
		d.must(domain.Reopen{Reason: reason})
	}
	c = d.must(domain.MakeOfficial{Name: "Ada Flagg"})
	file, err := fs.ReadFile(migrations.Files, "00007_official.sql")
	require.NoError(t, err)
	up, down, found := strings.Cut(string(file), "-- +goose Down")
	require.True(t, found)
	owner := d.sql("")
	_, err = owner.PgConn().Exec(d.ctx, down).ReadAll()
	require.NoError(t, err)
	var reopened int
	require.NoError(t, owner.QueryRow(d.ctx, "SELECT reopened FROM class").Scan(&reopened))
	require.Equal(t, 2, reopened)
	_, err = owner.PgConn().Exec(d.ctx, up).ReadAll()
	require.NoError(t, err)
	stored := d.stored()
	require.Equal(t, c.Official, stored.Official)
	require.Len(t, stored.Earlier, 2)
	for i, was := range c.Earlier {
		was.Name, was.Standing = "", []domain.Signed{}
		assert.Equal(t, was, stored.Earlier[i])
	}
}
