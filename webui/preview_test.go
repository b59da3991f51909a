package webui

import (
	"context"
	"fmt"
	"net/url"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/webui/language"
)

// previewOf is what typing into the field of the booth would become.
func previewOf(t require.TestingT, class *domain.Class, kept []KeptForm, typed, more string) Preview {
	form := resultOf(class, typed, uuid.UUID{15: 222})
	form.Values += more
	told, err := GoOnPreview(context.Background(), given(class), kept, form)
	require.NoError(t, err)
	return told
}

// Before Enter is pressed the page says what would stand, for whom, and with which place.
func TestAPreviewSaysWhatEnterWillStore(t *testing.T) {
	t.Parallel()
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	who := named(class.Entry(class.OnTrack().Entry))
	for typed, would := range map[string]Preview{
		"290,5":           {Result: "290.5 ft", Who: who, Place: "1"},
		"270":             {Result: "270 ft", Who: who, Place: "2"},
		"281.36":          {Result: "281.36 ft", Who: who, Place: "1="},
		"A":               {Result: "absent", Who: who},
		"Q out of bounds": {Result: "DQ, out of bounds", Who: who},
	} {
		require.Equal(t, would, previewOf(t, class, nil, typed, ""), typed)
	}
	require.Contains(t, previewOf(t, class, nil, "28l.36", "").Wrong, "is not a result. Type the distance")
	require.Contains(t, previewOf(t, class, nil, "2873", "").Wrong, "Enter asks once before it is stored.")
	require.Equal(t, "2873 ft", previewOf(t, class, nil, "2873", "&confirm="+url.QueryEscape("2873 ft lies far beyond the track")).Result, "what was confirmed is stored")
	require.Equal(t, domain.Hooking, class.Phase(), "nothing is done to the copy")
}

// A preview speaks the language of its page, whatever it says.
func TestAPreviewIsSaidInTheLanguage(t *testing.T) {
	t.Parallel()
	german := language.With(t.Context(), language.German())
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	for typed, says := range map[string]string{
		"290,5": "290,5 ft", "A": "nicht angetreten", "Q out of bounds": "DQ, aus der Bahn", "F": "FP ohne Zahl sagt hier nichts", "28l,36": "ist kein Ergebnis", "2873,5": "Enter fragt einmal nach, bevor es gespeichert wird.",
		"12,34567": "„12,34567“ ist kein Ergebnis", "0": "", "-1": "", "Q": "", "A tired": "", "9,5": "",
	} {
		form := resultOf(class, typed, uuid.UUID{15: 222})
		told, err := GoOnPreview(german, given(class), nil, form)
		require.NoError(t, err)
		require.Contains(t, told.Result+told.Wrong, says, typed)
		english, err := GoOnPreview(t.Context(), given(class), nil, form)
		require.NoError(t, err)
		said, unknown := language.German().Text(english.Wrong)
		require.Empty(t, unknown, typed)
		if english.Wrong != "" && !strings.Contains(typed, ",") {
			require.Equal(t, said, told.Wrong, typed)
		}
	}
}

// While the server is away the preview counts what is kept: the place is that of the class as it goes on.
func TestAPreviewCountsWhatIsKept(t *testing.T) {
	t.Parallel()
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	kept := resultOf(class, "290.5", uuid.UUID{15: 200})
	after, _, err := kept.on(context.Background(), *class)
	require.NoError(t, err)
	next := resultOf(&after, "285", uuid.New())
	told, err := GoOnPreview(context.Background(), given(class), []KeptForm{kept}, next)
	require.NoError(t, err)
	require.Equal(t, Preview{Result: "285 ft", Who: named(after.Entry(after.OnTrack().Entry)), Place: "2"}, told)
	told, err = GoOnPreview(context.Background(), given(class), nil, next)
	require.NoError(t, err)
	require.NotEmpty(t, told.Wrong, "without what is kept there is no such hook")

	next.Values = "%zz"
	_, err = GoOnPreview(context.Background(), given(class), nil, next)
	require.Error(t, err, "what is no form is nothing to show")
}

// Whatever distance is typed: the preview refuses it, or says the place that the standing gives once it is stored.
func TestThePreviewIsWhatThenStands(t *testing.T) {
	t.Parallel()
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	rapid.Check(t, func(t *rapid.T) {
		typed := fmt.Sprintf("%d.%02d", rapid.IntRange(0, 900).Draw(t, "feet"), rapid.IntRange(0, 99).Draw(t, "hundredths"))
		told := previewOf(t, class, nil, typed, "")
		form := resultOf(class, typed, uuid.UUID{15: 222})
		after, _, err := form.on(context.Background(), *class)
		if err != nil {
			require.NotEmpty(t, told.Wrong)
			require.Empty(t, told.Result)
			return
		}
		_, h := after.Find(class.OnTrack().ID)
		require.Equal(t, h.Result.Distance.String(), told.Result)
		rows := standing(cutEvent, &after).Rows
		for _, row := range rows {
			if row.Puller.Number == after.Entry(h.Entry).Number {
				require.Equal(t, row.Place, told.Place)
			}
		}
	})
}
