package doc_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
)

// Both ways of writing a draw down are read as the same document.
func TestADrawIsWrittenInLinesOrAsJSON(t *testing.T) {
	t.Parallel()
	lines, err := doc.ReadDrawing(strings.NewReader("\ufeff# who\r\nSeed  dice  4 2 6\r\nentries 41 7\nentries 23 9 5\napart 1 7 23\n\nplace 2 9\nlate 5"))
	require.NoError(t, err)
	object, err := doc.ReadDrawing(strings.NewReader(`
		{"seed": "dice  4 2 6", "entries": ["41", "7", "23", "9", "5"], "apart": [{"between": 1, "entries": ["7", "23"]}],
		 "fixed": [{"entry": "9", "place": 2}], "late": ["5"]}`))
	require.NoError(t, err)
	assert.Equal(t, object, lines)
	made, err := lines.Make()
	require.NoError(t, err)
	assert.Equal(t, "dice 4 2 6", made.Seed, "as it was used")
	assert.Nil(t, lines.Draw, "the document that was drawn from stays as it is")
}

// What is written is read back as the same, whatever stands in it; reading never fails otherwise than by refusing.
func FuzzADrawIsReadAndWritten(f *testing.F) {
	f.Add("seed dice 4 2 6\nentries 41 7 23\napart 1 7 23\nplace 1 41")
	f.Add(`{"seed": "<ox> & \"ax\"", "entries": ["A 1", "Ä9"], "late": ["A 1"]}`)
	f.Add("commitment 877d\nreveal x")
	f.Fuzz(func(t *testing.T, text string) {
		d, err := doc.ReadDrawing(strings.NewReader(text))
		if err != nil {
			return
		}
		made, err := d.Make()
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		var written bytes.Buffer
		require.NoError(t, made.Write(&written))
		again, err := doc.ReadDrawing(&written)
		require.NoError(t, err)
		require.Equal(t, made, again)
		checked, err := again.Verify()
		require.NoError(t, err)
		require.NotEmpty(t, checked)
	})
}
