package postgres_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// shot is a photo for a hook; another one for another shade.
func shot(t testing.TB, hook uuid.UUID, shade int) domain.AttachPhoto {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, 30, 20))
	picture.SetGray(0, 0, color.Gray{Y: uint8(shade)}) // #nosec G115 -- a shade
	var written bytes.Buffer
	require.NoError(t, png.Encode(&written, picture))
	action, err := domain.ReadPhoto(written.Bytes())
	require.NoError(t, err)
	action.Photo, action.Hook = uuid.New(), hook
	return action
}

// A photo comes back byte for byte, the journal has its hash and not its bytes, and the class is that of the journal.
func TestAPhotoIsKeptAsItCame(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7")
	hook := d.measured()
	first := shot(t, hook, 1)
	d.must(first)
	c := d.must(domain.Correct{Hook: hook, Result: d.distance("281.63"), Reason: "measured again", Next: uuid.New()})
	second := shot(t, hook, 2)
	second.Reading = c.Rounds[0].Hooks[0].Result.Distance
	c = d.must(second)
	require.Len(t, c.Photos, 2)
	assert.Equal(t, []string{"281.36 ft", "281.63 ft"}, []string{c.Photos[0].Reading.String(), c.Photos[1].Reading.String()})

	require.Equal(t, c, d.class(), "as another reader finds it")
	lines := d.lines()
	chained(t, lines)
	require.Equal(t, anonymous(c), replay(t, lines, c.ID))
	line := lines[len(lines)-1]
	assert.Equal(t, "photo", line.Kind)
	assert.Contains(t, string(line.Payload), second.SHA256)
	assert.Less(t, len(line.Payload), 400)

	held, err := d.desk.Photo(d.ctx, organiser, d.ref, first.Photo)
	require.NoError(t, err)
	assert.Equal(t, first.Bytes(), held.Bytes)
	assert.Equal(t, c.Photos[0], held.Photo)
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(t, err)
	assert.True(t, page.Journal[0].Staff, "it is nothing for the public")
	whole, err := d.desk.Live().Day(d.ctx, d.ref.Event)
	require.NoError(t, err)
	public, err := whole.Class(d.ref.Class)
	require.NoError(t, err)
	assert.Equal(t, page.Class, public.Class)
	assert.Equal(t, "correction", public.Journal[0].Kind, "what changed last for the public")
	_, err = whole.Class("no-such-class")
	assert.Equal(t, domain.NotFound, domain.KindOf(err))
}

// measured begins the class and stores the first reading; it returns the hook.
func (d *day) measured() uuid.UUID {
	d.t.Helper()
	c := d.begin()
	hook := c.OnTrack().ID
	d.record(c, "281.36")
	return hook
}

// class reads the class as a page does.
func (d *day) class() domain.Class {
	d.t.Helper()
	page, err := d.desk.ClassPage(d.ctx, d.ref)
	require.NoError(d.t, err)
	return page.Class
}

// distance is a result of that many feet.
func (d *day) distance(figures string) domain.Result {
	d.t.Helper()
	read, err := domain.ParseDistance(figures, domain.Foot)
	require.NoError(d.t, err)
	return domain.Result{Outcome: domain.Measured, Distance: read}
}

func TestAPhotoSentTwiceIsAttachedOnce(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7")
	hook := d.measured()
	action, a := uuid.New(), shot(t, hook, 1)
	first, err := d.desk.Act(d.ctx, organiser, d.ref, action, a)
	require.NoError(t, err)
	again, err := d.desk.Act(d.ctx, organiser, d.ref, action, a)
	require.NoError(t, err)
	require.Equal(t, first.Number, again.Number)
	require.True(t, again.Repeated)
	require.Len(t, d.class().Photos, 1)
	other := shot(t, hook, 2)
	other.Photo = a.Photo
	_, err = d.desk.Act(d.ctx, organiser, d.ref, action, other)
	require.Equal(t, domain.Stale, domain.KindOf(err), "the id was used for another photo")
	_, err = d.desk.Act(d.ctx, organiser, d.ref, uuid.New(), other)
	require.Equal(t, domain.Invalid, domain.KindOf(err), "the photo has no id of its own")
}

// Only staff of the event look at a photo, at the address of its class.
func TestWhoMayLookAtAPhoto(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7")
	hook := d.measured()
	a := shot(t, hook, 1)
	_, err := d.desk.Act(d.ctx, desk.By{Role: domain.Cab}, d.ref, uuid.New(), a)
	require.Equal(t, domain.Forbidden, domain.KindOf(err), "the cab attaches none")
	d.must(a)
	for _, row := range []struct {
		name string
		by   desk.By
		ref  desk.Ref
		id   uuid.UUID
		kind domain.Kind
	}{
		{"the booth", desk.By{Role: domain.Booth, Event: d.event.ID}, d.ref, a.Photo, 0},
		{"the cab", desk.By{Role: domain.Cab}, d.ref, a.Photo, 0},
		{"the scale", desk.By{Role: domain.Scale}, d.ref, a.Photo, domain.Forbidden},
		{"the line-up", desk.By{Role: domain.Lane}, d.ref, a.Photo, domain.Forbidden},
		{"nobody", desk.By{}, d.ref, a.Photo, domain.Forbidden},
		{"the booth of another event", desk.By{Role: domain.Booth, Event: uuid.New()}, d.ref, a.Photo, domain.Forbidden},
		{"the address of another class", organiser, desk.Ref{Event: d.ref.Event, Class: "other"}, a.Photo, domain.NotFound},
		{"the address of another event", organiser, desk.Ref{Event: "other", Class: d.ref.Class}, a.Photo, domain.NotFound},
		{"another id", organiser, d.ref, uuid.New(), domain.NotFound},
	} {
		held, err := d.desk.Photo(d.ctx, row.by, row.ref, row.id)
		require.Equal(t, row.kind, domain.KindOf(err), row.name)
		require.Equal(t, row.kind == 0, len(held.Bytes) > 0, row.name)
	}
}

// Whoever asks the database, as the program or as its owner: a photo stays.
func TestAPhotoIsNeverChangedOrDeleted(t *testing.T) {
	t.Parallel()
	for _, role := range sqlRoles {
		t.Run("as "+role, func(t *testing.T) {
			t.Parallel()
			d := newDay(t, "floating-ft", "41", "7")
			hook := d.measured()
			d.must(shot(t, hook, 1))
			before := d.class()
			conn := d.sql(role)
			for _, sql := range []string{
				`UPDATE photo SET bytes = 'x'`, `UPDATE photo SET bytes = 'x', sha256 = sha256('x')`, `UPDATE photo SET reading = '300 ft'`, `UPDATE photo SET hook_id = gen_random_uuid()`,
				`UPDATE photo SET at = now()`, `DELETE FROM photo`, `TRUNCATE photo`, `DELETE FROM hook`,
			} {
				_, err := conn.Exec(d.ctx, sql)
				require.Error(t, err, sql)
			}
			require.Equal(t, before, d.class())
		})
	}
}

// The database holds the rules of a photo against whoever writes rows by hand.
func TestThePhotosOfTheDatabase(t *testing.T) {
	t.Parallel()
	d := newDay(t, "floating-ft", "41", "7")
	hook := d.measured()
	c := d.class()
	d.must(shot(t, hook, 1))
	conn := d.sql("clayline_app")
	insert := func(class, hook uuid.UUID, kind, bytes, hashed string) error {
		_, err := conn.Exec(d.ctx, `
			INSERT INTO photo (id, class_id, position, hook_id, reading, type, sha256, bytes, at)
			SELECT $1, $2, max(position) + 1, $3, '281.36 ft', $4, sha256(convert_to($6, 'UTF8')), convert_to($5, 'UTF8'), now()
			FROM photo`, uuid.New(), class, hook, kind, bytes, hashed)
		return err
	}
	const kind = "image/png"
	refused(t, insert(c.ID, uuid.New(), kind, "a", "a"), "photo_is_of_a_reading")
	refused(t, insert(uuid.New(), hook, kind, "a", "a"), "photo_is_of_a_reading")
	refused(t, insert(c.ID, hook, kind, "a", "b"), "photo_has_its_hash")
	refused(t, insert(c.ID, hook, kind, "", ""), "photo_is_bounded")
	large := strings.Repeat("a", domain.MaxPhotoBytes+1)
	refused(t, insert(c.ID, hook, kind, large, large), "photo_is_bounded")
	refused(t, insert(c.ID, hook, "text/html", "a", "a"), "photo_type_check")
	for _, bytes := range []string{"a", "b", "c", "d", "e"} {
		require.NoError(t, insert(c.ID, hook, kind, bytes, bytes))
	}
	refused(t, insert(c.ID, hook, kind, "f", "f"), "photos_of_a_hook_are_few")
}
