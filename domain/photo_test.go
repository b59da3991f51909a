package domain_test

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
)

// shades is a picture of that many pixels, another one for another shade.
func shades(width, height, shade int) image.Image {
	m := image.NewGray(image.Rect(0, 0, width, height))
	m.SetGray(0, 0, color.Gray{Y: uint8(shade)}) // #nosec G115 -- a shade
	return m
}

// pngOf and jpegOf write pictures as somebody else's programs do.
func pngOf(t require.TestingT, width, height, shade int) []byte {
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, shades(width, height, shade)))
	return b.Bytes()
}

func jpegOf(t require.TestingT, width, height int) []byte {
	var b bytes.Buffer
	require.NoError(t, jpeg.Encode(&b, shades(width, height, 200), nil))
	return b.Bytes()
}

// photo is what a photo says of itself; another one for another shade.
func photo(t require.TestingT, shade int) domain.AttachPhoto {
	shot, err := domain.ReadPhoto(pngOf(t, 3, 2, shade))
	require.NoError(t, err)
	return shot
}

// webp makes a WebP of one chunk.
func webp(chunk, data string) []byte {
	size := binary.LittleEndian.AppendUint32(nil, uint32(12+len(data))) // #nosec G115 -- short
	length := binary.LittleEndian.AppendUint32(nil, uint32(len(data)))  // #nosec G115 -- short
	return []byte("RIFF" + string(size) + "WEBP" + chunk + string(length) + data)
}

// attach attaches a photo to the hook of a number.
func (s *story) attach(number string, shade int) domain.AttachPhoto {
	s.t.Helper()
	shot := photo(s.t, shade)
	shot.Photo, shot.Hook = s.id(), s.hook(number, "1").ID
	s.do(shot)
	return shot
}

// Two small WebP that other programs made, one lossy and one lossless.
const (
	lossyWebP    = "UklGRiQAAABXRUJQVlA4IBgAAAAwAQCdASoBAAEAAgA0JaQAA3AA/vuUAAA="
	losslessWebP = "UklGRh4AAABXRUJQVlA4TBEAAAAvAAAAAAfQ//73v/+BiOh/AAA="
)

func unbase64(t require.TestingT, s string) []byte {
	b, err := base64.StdEncoding.DecodeString(s)
	require.NoError(t, err)
	return b
}

func TestAPhotoIsRecognisedByItsBytes(t *testing.T) {
	t.Parallel()
	phone := jpegOf(t, 17, 9)
	// What a camera writes about itself stands before the frame, and fill bytes may stand before any marker (T.81, B.1.1.2).
	exif := append([]byte("\xff\xd8\xff\xe1\x00\x0aExif\x00\x00\x00\x00\xff"), phone[2:]...)
	for name, row := range map[string]struct {
		bytes         []byte
		kind          domain.PhotoType
		width, height int
	}{
		"a JPEG":                       {phone, domain.PhotoJPEG, 17, 9},
		"a JPEG of a phone":            {exif, domain.PhotoJPEG, 17, 9},
		"a JPEG that is cut off":       {phone[:60], domain.PhotoJPEG, 0, 0},
		"a JPEG whose scan is first":   {[]byte("\xff\xd8\xff\xda\x00\x08xxxxxxxxxx"), domain.PhotoJPEG, 0, 0},
		"a JPEG of an unknown marker":  {[]byte("\xff\xd8\xff\x02\x00\x08xxxxxxxxxx"), domain.PhotoJPEG, 0, 0},
		"a PNG":                        {pngOf(t, 600, 400, 1), domain.PhotoPNG, 600, 400},
		"a PNG that is cut off":        {pngOf(t, 600, 400, 1)[:20], domain.PhotoPNG, 0, 0},
		"a PNG of a negative width":    {[]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\xff\xff\xff\xff\x00\x00\x00\x05"), domain.PhotoPNG, -1, 5},
		"a lossy WebP":                 {unbase64(t, lossyWebP), domain.PhotoWebP, 1, 1},
		"a lossless WebP":              {unbase64(t, losslessWebP), domain.PhotoWebP, 1, 1},
		"a lossless WebP of 4 × 3":     {webp("VP8L", "\x2f\x03\x80\x00\x00xxxxxxx"), domain.PhotoWebP, 4, 3},
		"an extended WebP":             {webp("VP8X", "\x00\x00\x00\x00\x57\x02\x00\x8f\x01\x00xx"), domain.PhotoWebP, 600, 400},
		"a WebP without a key frame":   {webp("VP8 ", "xxxxxxxxxxxxxxxx"), domain.PhotoWebP, 0, 0},
		"a lossless WebP that is none": {webp("VP8L", "xxxxxxxxxxxxxxxx"), domain.PhotoWebP, 0, 0},
		"a WebP of another chunk":      {webp("ALPH", "xxxxxxxxxxxxxxxx"), domain.PhotoWebP, 0, 0},
		"a WebP that is cut off":       {webp("VP8X", "x"), domain.PhotoWebP, 0, 0},
		"a sound":                      {[]byte("RIFF\x24\x00\x00\x00WAVEfmt "), 0, 0, 0},
		"a GIF":                        {[]byte("GIF89a\x01\x00\x01\x00"), 0, 0, 0},
		"a page":                       {[]byte("<html><script>alert(1)</script>"), 0, 0, 0},
		"a drawing with a script":      {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>`), 0, 0, 0},
		"nothing":                      {nil, 0, 0, 0},
	} {
		kind, width, height := domain.PhotoShape(row.bytes)
		assert.Equal(t, []any{row.kind, row.width, row.height}, []any{kind, width, height}, name)
	}
}

// The pixels are those that another reader finds, whatever the size.
func TestPixelsAreReadLikeByOthers(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		width, height := rapid.IntRange(1, 40).Draw(t, "width"), rapid.IntRange(1, 40).Draw(t, "height")
		for _, b := range [][]byte{jpegOf(t, width, height), pngOf(t, width, height, 9)} {
			_, w, h := domain.PhotoShape(b)
			require.Equal(t, [2]int{width, height}, [2]int{w, h})
		}
	})
}

func FuzzPhotoShape(f *testing.F) {
	for _, seed := range [][]byte{jpegOf(f, 5, 4), pngOf(f, 5, 4, 1), unbase64(f, lossyWebP), unbase64(f, losslessWebP), webp("VP8X", "\x00\x00\x00\x00\x57\x02\x00\x8f\x01\x00xx"), nil} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		kind, width, height := domain.PhotoShape(b)
		if other, _, err := image.DecodeConfig(bytes.NewReader(b)); err == nil && kind != 0 && width > 0 && height > 0 {
			require.Equal(t, [2]int{other.Width, other.Height}, [2]int{width, height})
		}
		shot, err := domain.ReadPhoto(b)
		if err != nil {
			require.Equal(t, domain.Invalid, domain.KindOf(err))
			return
		}
		require.Equal(t, kind, shot.Type)
		require.Len(t, shot.SHA256, 64)
		require.LessOrEqual(t, width*height, domain.MaxPhotoPixels)
	})
}

func TestWhatIsNoPhotoIsRefused(t *testing.T) {
	t.Parallel()
	large := append(jpegOf(t, 4, 4), make([]byte, domain.MaxPhotoBytes)...)
	most := append(jpegOf(t, 4, 4), make([]byte, domain.MaxPhotoBytes)...)[:domain.MaxPhotoBytes]
	shot, err := domain.ReadPhoto(most)
	require.NoError(t, err, "as much as there may be")
	require.Equal(t, domain.MaxPhotoBytes, shot.Size)
	wide := webp("VP8X", "\x00\x00\x00\x00\xff\xff\xff\xff\xff\xffxx")
	for sentence, b := range map[string][]byte{
		"there is no photo": nil, "the photo has more than 4 MB": large, "the file is no JPEG, PNG or WebP": []byte("%PDF-1.7"),
		"the photo is damaged": jpegOf(t, 4, 4)[:40], "the photo has more than 64 million pixels": wide,
	} {
		_, err := domain.ReadPhoto(b)
		var refusal *domain.Error
		require.ErrorAs(t, err, &refusal, sentence)
		assert.Equal(t, domain.Invalid, refusal.Kind)
		assert.Equal(t, "photo", refusal.Field)
		assert.Equal(t, sentence, refusal.Message)
		assert.NotEmpty(t, refusal.Fix)
	}
	_, err = domain.ReadPhoto([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\xff\xff\xff\xff\x00\x00\x00\x05"))
	assert.ErrorContains(t, err, "damaged")
	_, err = domain.ReadPhoto([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x1f\x40\x00\x00\x1f\x40"))
	require.NoError(t, err, "8,000 × 8,000 are 64 million pixels")
	_, err = domain.ReadPhoto([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x1f\x41\x00\x00\x1f\x40"))
	require.ErrorContains(t, err, "64 million pixels")
}

// A photo shows what was read; a remeasured hook keeps the first photo with the first reading. No published source.
func TestAPhotoBelongsToAReading(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Test = domain.TestRule{} }), "41", "7")
	on := s.class.OnTrack().ID
	early := photo(t, 1)
	early.Photo, early.Hook = s.id(), on
	s.refuse(early, domain.WrongState, "no measured distance")
	s.pulls("41", "281.36")
	standing := s.class.Standing()
	first := s.attach("41", 1)
	require.Equal(t, []domain.Photo{{
		ID: first.Photo, Hook: on, Reading: distance(t, "281.36", domain.Foot), Type: domain.PhotoPNG, Size: first.Size, SHA256: first.SHA256, At: s.clock,
	}}, s.class.PhotosOf(on))
	require.Equal(t, standing, s.class.Standing(), "it changes no result")
	require.Equal(t, "7", s.onTrack(), "and calls nobody")

	s.do(domain.Correct{Hook: on, Result: resultIn(t, "281.63", domain.Foot), Reason: "measured again", Next: s.id()})
	seen := photo(t, 2)
	seen.Photo, seen.Hook, seen.Reading = s.id(), on, distance(t, "281.36", domain.Foot)
	s.refuse(seen, domain.Stale, "the reading is 281.63 ft by now, and not 281.36 ft")
	seen.Reading = distance(t, "281.63", domain.Foot)
	s.do(seen)
	have := s.class.PhotosOf(on)
	require.Len(t, have, 2)
	assert.Equal(t, []string{"281.36 ft", "281.63 ft"}, []string{have[0].Reading.String(), have[1].Reading.String()})
	s.pulls("7", "FP 312.44")
	assert.Empty(t, s.class.PhotosOf(s.hook("7", "1").ID))
	s.attach("7", 1)
}

func TestAPhotoIsRefused(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Test = domain.TestRule{} }), "41", "7")
	s.pulls("41", "281.36")
	first := s.attach("41", 1)
	good := func(change func(*domain.AttachPhoto)) domain.AttachPhoto {
		shot := photo(t, 2)
		shot.Photo, shot.Hook = s.id(), first.Hook
		change(&shot)
		return shot
	}
	for sentence, row := range map[string]struct {
		action domain.AttachPhoto
		kind   domain.Kind
	}{
		"there is no such hook":                             {good(func(a *domain.AttachPhoto) { a.Hook = s.id() }), domain.NotFound},
		"that hook has no measured distance":                {good(func(a *domain.AttachPhoto) { a.Hook = s.class.OnTrack().ID }), domain.WrongState},
		"the photo has no id of its own":                    {good(func(a *domain.AttachPhoto) { a.Photo = first.Photo }), domain.Invalid},
		"that photo is attached to the hook already":        {good(func(a *domain.AttachPhoto) { a.SHA256 = first.SHA256 }), domain.WrongState},
		"the reading is 281.36 ft by now, and not 281.3 ft": {good(func(a *domain.AttachPhoto) { a.Reading = distance(t, "281.3", domain.Foot) }), domain.Stale},
	} {
		s.refuse(row.action, row.kind, sentence)
	}
	s.refuse(good(func(a *domain.AttachPhoto) { a.Photo = uuid.Nil }), domain.Invalid, "no id")
	for _, change := range []func(*domain.AttachPhoto){
		func(a *domain.AttachPhoto) { a.Type = 0 }, func(a *domain.AttachPhoto) { a.Type = 9 }, func(a *domain.AttachPhoto) { a.Size = 0 },
		func(a *domain.AttachPhoto) { a.Size = domain.MaxPhotoBytes + 1 }, func(a *domain.AttachPhoto) { a.SHA256 = "" },
		func(a *domain.AttachPhoto) { a.SHA256 = "ab" }, func(a *domain.AttachPhoto) { a.SHA256 = strings.ToUpper(a.SHA256) },
		func(a *domain.AttachPhoto) { a.SHA256 = strings.Repeat("x", 64) },
	} {
		s.refuse(good(change), domain.Invalid, "that is no photo")
	}
	for shade := 2; shade <= domain.MaxPhotos; shade++ {
		s.attach("41", shade)
	}
	s.refuse(good(func(a *domain.AttachPhoto) { a.SHA256 = strings.Repeat("0", 64) }), domain.WrongState, "has 6 photos")
}

// A signed result takes a photo no more than anything else; a hook that does not count keeps its own.
func TestAPhotoOfAHookThatDoesNotCount(t *testing.T) {
	t.Parallel()
	s := begun(t, set(t, "capped-300ft", func(r *domain.RuleSet) { r.Test = domain.TestRule{} }), "41")
	s.pulls("41", "281.36")
	hook := s.attach("41", 1).Hook
	s.do(domain.VoidHook{Hook: hook, Reason: "another vehicle", Next: s.id()})
	require.Len(t, s.class.PhotosOf(hook), 1)
	s.do(domain.MakeOfficial{Name: "O. Example"})
	late := photo(t, 2)
	late.Photo, late.Hook = s.id(), hook
	s.refuse(late, domain.WrongState, "official")
}

func TestAMediaTypeIsReadBack(t *testing.T) {
	t.Parallel()
	for _, kind := range []domain.PhotoType{0, domain.PhotoJPEG, domain.PhotoPNG, domain.PhotoWebP} {
		text, err := kind.MarshalText()
		require.NoError(t, err)
		var read domain.PhotoType
		require.NoError(t, read.UnmarshalText(text))
		require.Equal(t, kind, read)
	}
	var kind domain.PhotoType
	require.ErrorContains(t, kind.UnmarshalText([]byte("image/svg+xml")), "no format of a photo")
	require.Empty(t, domain.PhotoType(9).String())
}
