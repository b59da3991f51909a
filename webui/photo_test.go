package webui

import (
	"net/url"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// onePixel is what a photo of one pixel begins with: as much as its pixels are read from.
const onePixel = "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01\x00\x00\x00\x01"

// shoot attaches a photo to a hook of the current round; another one for other words behind its pixels.
func (l *tale) shoot(hook int, words string) uuid.UUID {
	l.t.Helper()
	shot, err := domain.ReadPhoto([]byte(onePixel + words))
	require.NoError(l.t, err)
	shot.Photo, shot.Hook = l.id(), l.class.Current().Hooks[hook].ID
	l.do(shot)
	return shot.Photo
}

// A photo goes to any hook that counts and has a distance, the newest first, while the class is not signed.
func TestWhichReadingsTakeAPhoto(t *testing.T) {
	t.Parallel()
	for what, row := range map[string]struct {
		steps []string
		takes []string
	}{
		"nothing drawn":               {nil, nil},
		"the first on the track":      {begun(), nil},
		"the test hook":               {begun("281.36"), []string{"7 P7: 281.36 ft, hook 1, round 1"}},
		"two of them":                 {begun("281.36", "keep", "263.1"), []string{"12 P12: 263.1 ft, hook 2, round 1", "7 P7: 281.36 ft, hook 1, round 1"}},
		"a full pull, measured":       {begun("281.36", "keep", "FP 312.44"), []string{"12 P12: full pull 312.44 ft, hook 2, round 1", "7 P7: 281.36 ft, hook 1, round 1"}},
		"disqualified without any":    {begun("281.36", "keep", "DQ out of bounds"), []string{"7 P7: 281.36 ft, hook 1, round 1"}},
		"a hook that does not count":  {begun("281.36", "keep", "again sled, red light"), []string{"7 P7: 281.36 ft, hook 1, round 1"}},
		"official, and nothing moves": {begun("281.36", "keep", "263.1", "271", "272", "sign"), nil},
	} {
		view := attachable(cutEvent, tell(t, "floating-ft", row.steps...), nil)
		var takes []string
		for _, o := range view.Hooks {
			takes = append(takes, o.Text)
		}
		assert.Equal(t, row.takes, takes, what)
		assert.Equal(t, row.takes == nil, view.Attach == nil, what)
	}
}

// After another measurement each photo says what it shows; a hook with six takes no more.
func TestPhotosAreListedWithWhatTheyShow(t *testing.T) {
	t.Parallel()
	l := plan(t, "floating-ft")
	for _, step := range begun("281.36", "keep", "263.1") {
		l.step(step)
	}
	first := l.shoot(0, "first")
	l.step("correct 7 281.63")
	l.shoot(0, "second")
	view := attachable(cutEvent, &l.class, nil)
	require.Len(t, view.Seen, 2)
	require.Equal(t, templates.Photo{
		Href: "/e/tarn-hollow/8200-lb-field-stock/photo/" + first.String(), Reading: "281.36 ft", Who: "7 P7", Where: "hook 1, round 1", Time: view.Seen[1].Time,
	}, view.Seen[1], "the newest is first")
	require.Equal(t, "281.63 ft", view.Seen[0].Reading)
	for _, words := range []string{"third", "fourth", "fifth", "sixth"} {
		l.shoot(0, words)
	}
	view = attachable(cutEvent, &l.class, nil)
	require.Len(t, view.Hooks, 1)
	require.Equal(t, "12 P12: 263.1 ft, hook 2, round 1", view.Hooks[0].Text)
	require.Nil(t, photosOf(cutEvent, &l.class).Attach, "the desk only looks")

	line := line(t, domain.AttachPhoto{Photo: first, Hook: l.class.Current().Hooks[0].ID})
	line.Subject = l.class.ID
	told := journalLines(cutEvent, []domain.Class{l.class}, []desk.Line{line})
	require.Equal(t, view.Seen[5].Href, told[0].Photo)
	require.Equal(t, "photo of the reading attached to 7 (hook 1, round 1)", told[0].What)
	line.Kind = "call"
	require.Empty(t, journalLines(cutEvent, []domain.Class{l.class}, []desk.Line{line})[0].Photo)
}

// The form says which reading it was chosen for, and what is not a photo is told before anything else.
func TestAPhotoIsReadFromItsForm(t *testing.T) {
	t.Parallel()
	class := tell(t, "floating-ft", begun("281.36")...)
	hook, made := class.Current().Hooks[0].ID, uuid.New()
	shot, err := domain.ReadPhoto([]byte(onePixel))
	require.NoError(t, err)
	sent := url.Values{fieldShot: {made.String()}, templates.FieldReading: {attachable(cutEvent, class, nil).Hooks[0].Value}}
	action, err := photoAct(shot, nil)(class, sent)
	require.NoError(t, err)
	want := shot
	want.Photo, want.Hook, want.Reading = made, hook, class.Current().Hooks[0].Result.Distance
	require.Equal(t, want, action)
	_, err = domain.Decide(*class, action, typedAt)
	require.NoError(t, err)

	_, none := domain.ReadPhoto(nil)
	_, err = photoAct(shot, none)(class, url.Values{})
	require.ErrorIs(t, err, none)
	for field, value := range map[string]string{templates.FieldReading: hook.String() + " soon", fieldShot: "first"} {
		wrong := url.Values{fieldShot: sent[fieldShot], templates.FieldReading: sent[templates.FieldReading]}
		wrong.Set(field, value)
		_, err = photoAct(shot, nil)(class, wrong)
		require.ErrorContains(t, err, "the form is not complete", field)
	}
}
