package language_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/webui/language"
)

func TestANumberIsReadAsTheLanguageWritesIt(t *testing.T) {
	t.Parallel()
	var english *language.Language
	for typed, read := range map[string]string{
		"150,50": "150.50", " 21,6 kg ": " 21.6 kg ", "8,200": "8,200", "21,600 lb": "21,600 lb", "0,3333": "0.3333", "287.34": "287.34", "41, 7": "41, 7", "1,250,50": "1,250,50",
		"left rear, 3,5 turns": "left rear, 3,5 turns", "": "", "7,5b 2": "7,5b 2",
	} {
		require.Equal(t, read, language.German().Typed(typed), typed)
		require.Equal(t, typed, english.Typed(typed))
	}
}
