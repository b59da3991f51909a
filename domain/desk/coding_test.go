package desk

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// reversed is a coding whose work can be told from gzip's.
func reversed(times *int) Coding {
	return Coding{Name: "rev", Pack: func(body []byte) ([]byte, error) {
		*times++
		packed := bytes.Clone(body)
		for i, j := 0, len(packed)-1; i < j; i, j = i+1, j-1 {
			packed[i], packed[j] = packed[j], packed[i]
		}
		return packed, nil
	}}
}

// rendered is a page of a class after line 57.
func rendered() Rendered { return Rendered{Type: "text/plain", Body: []byte("281.36 ft"), Mark: "57"} }

// Each reader gets the coding it weighs highest; RFC 9110, section 12.5.3, has the rules.
func TestAReaderGetsTheCodingItLikesBest(t *testing.T) {
	t.Parallel()
	times := 0
	page := packable(rendered(), withGzip([]Coding{reversed(&times)}))
	for accept, want := range map[string]string{
		"":                           "",
		"identity":                   "",
		"gzip":                       "gzip",
		"x-gzip":                     "gzip",
		"GZIP":                       "gzip",
		"gzip, rev":                  "rev", // equal weights: what packs better
		"rev;q=0.4, gzip;q=0.5":      "gzip",
		"rev ; q=0.4 , gzip ; Q=0.5": "gzip",
		"zstd, gzip;q=0.1":           "gzip",
		"zstd":                       "",
		"*":                          "rev",
		"rev;q=0, *":                 "gzip",
		"*;q=0.5, gzip":              "gzip",
		"gzip;q=0":                   "",
		"gzip;q=0, rev;q=0, *":       "",
		"gzip;q=0.000":               "",
		"gzip;q=soon":                "", // what cannot be read is as if forbidden
		"gzip;q=2":                   "",
		"gzip;q=-1":                  "",
		"gzip;q=NaN":                 "",
		"gzip;level=9":               "",
		"identity, gzip;q=0.5":       "", // the page as it is was asked for
		"identity;q=0.5, gzip":       "gzip",
		"identity;q=0, gzip;q=0.1":   "gzip",
		",, ,":                       "",
	} {
		answer, err := page.Answer(accept, "")
		require.NoError(t, err)
		require.Equal(t, want, answer.Header["Content-Encoding"], "%q", accept)
		require.Equal(t, "Accept-Encoding", answer.Header["Vary"], "whatever was asked")
	}
	require.Equal(t, 1, times, "packed once for all")
}

// A tag names the version, the bytes and the coding. Whoever has the page in any coding has it (RFC 9110, 13.1.2).
func TestWhoHasThePageIsSentNothing(t *testing.T) {
	t.Parallel()
	page := packable(rendered(), withGzip(nil))
	plain, err := page.Answer("", "")
	require.NoError(t, err)
	packed, err := page.Answer("gzip", "")
	require.NoError(t, err)
	tag := strings.Trim(plain.Header["ETag"], `"`)
	require.Regexp(t, `^57-[0-9a-f]{24}$`, tag)
	require.Equal(t, `"`+tag+`-gzip"`, packed.Header["ETag"])
	for _, have := range []string{`"` + tag + `"`, `"` + tag + `-gzip"`, `W/"` + tag + `"`, `"a", W/"` + tag + `-gzip" `, "*", ` "x" , *`} {
		answer, err := page.Answer("gzip", have)
		require.NoError(t, err)
		require.True(t, answer.Same, have)
		require.Equal(t, packed.Header["ETag"], answer.Header["ETag"])
		require.NotContains(t, answer.Header, "Content-Encoding")
		require.NotContains(t, answer.Header, "Content-Length")
	}
	for _, have := range []string{"", tag, `"` + tag, tag + `"`, `"57"`, `"` + tag + `-br"`, `"` + tag + `0"`, `"x` + tag + `"`, `"*"`} {
		answer, err := page.Answer("gzip", have)
		require.NoError(t, err)
		require.False(t, answer.Same, have)
	}
	later := rendered()
	later.Body = []byte("281.36 feet")
	other, err := packable(later, nil).Answer("", plain.Header["ETag"])
	require.NoError(t, err)
	require.False(t, other.Same, "a program that renders the same line differently has another tag")
}

// Whatever is asked, what is sent is the page, in the coding that the answer names, and of the length that it names.
func TestTheBytesAreThePage(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		body := rapid.SliceOf(rapid.Byte()).Draw(t, "body")
		accept := rapid.StringMatching(`((gzip|rev|\*|identity|br)(;q=[01](\.[0-9])?)?,? ?){0,4}`).Draw(t, "accept")
		times := 0
		answer, err := packable(Rendered{Body: body}, withGzip([]Coding{reversed(&times)})).Answer(accept, "")
		require.NoError(t, err)
		sent := answer.Body
		switch answer.Header["Content-Encoding"] {
		case "gzip":
			r, err := gzip.NewReader(bytes.NewReader(sent))
			require.NoError(t, err)
			sent, err = io.ReadAll(r)
			require.NoError(t, err)
		case "rev":
			sent, err = reversed(&times).Pack(sent)
			require.NoError(t, err)
		}
		require.True(t, bytes.Equal(body, sent))
	})
}

// A coding that fails is a failure, and not half a page.
func TestACodingThatFailsIsAnError(t *testing.T) {
	t.Parallel()
	broken := errors.New("no room")
	page := packable(rendered(), []Coding{{Name: "br", Pack: func([]byte) ([]byte, error) { return nil, broken }}})
	_, err := page.Answer("br", "")
	require.ErrorIs(t, err, broken)
	answer, err := page.Answer("gzip", "")
	require.NoError(t, err)
	require.Equal(t, "281.36 ft", string(answer.Body))
}
