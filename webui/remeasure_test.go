package webui

import (
	"context"
	"net/url"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// measuredForm is the form for another measurement of a hook.
func measuredForm(h *domain.Hook, typed string) KeptForm {
	return KeptForm{Action: uuid.New(), Page: "booth", Act: "correct", At: typedAt,
		Values: fields("hook", h.ID.String(), "of", h.Entry.String(), "next", uuid.NewString(), "word", measuredAgain, "result", typed)}
}

// A hook is measured again while the sled stands where it stopped: the last one that was measured, until the next moves.
// Common practice, no published source.
func TestTheLastMeasuredHookIsMeasuredAgain(t *testing.T) {
	for what, row := range map[string]struct {
		steps []string
		hook  int // index of the hook that is offered; -1 for none
	}{
		"nothing drawn":              {nil, -1},
		"the first on the track":     {begun(), -1},
		"the test hook, undecided":   {begun("281.36"), 0},
		"the next was called":        {begun("281.36", "keep"), 0},
		"the next has started":       {begun("281.36", "keep", "start"), -1},
		"the next is stored":         {begun("281.36", "keep", "263.1"), 1},
		"a full pull, measured":      {begun("281.36", "keep", "FP 312.44"), 1},
		"disqualified where it was":  {begun("281.36", "keep", "DQ out of bounds"), -1},
		"absent":                     {begun("281.36", "keep", "absent"), -1},
		"a hook that does not count": {begun("281.36", "keep", "again sled, red light"), -1},
		"the round is done":          {begun("281.36", "keep", "263.1", "271", "FP 304"), 3},
		"official":                   {begun("281.36", "keep", "263.1", "271", "272", "sign"), -1},
	} {
		t.Run(what, func(t *testing.T) {
			class := tell(t, "floating-ft", row.steps...)
			h := remeasurable(class)
			if row.hook < 0 {
				require.Nil(t, h)
				require.Nil(t, remeasureOf(cutEvent, class, nil))
				return
			}
			require.Equal(t, class.Current().Hooks[row.hook].ID, h.ID)
			form := remeasureOf(cutEvent, class, nil).Form
			require.Equal(t, "/e/tarn-hollow/8200-lb-field-stock/booth/correct", form.Action)
		})
	}
}

// Another measurement is a correction with its reason. It leaves who is on the track there, and a choice open.
func TestAnotherMeasurementIsACorrection(t *testing.T) {
	for what, steps := range map[string][]string{"the next was called": begun("281.36", "keep"), "a choice is open": begun("281.36")} {
		t.Run(what, func(t *testing.T) {
			class := tell(t, "floating-ft", steps...)
			before := class.Phase()
			h := remeasurable(class)
			after, _, err := measuredForm(h, "281,4").on(context.Background(), *class)
			require.NoError(t, err)
			_, now := after.Find(h.ID)
			require.Equal(t, []string{"281.4", measuredAgain}, []string{now.Result.String(), now.Corrected})
			require.Equal(t, before, after.Phase())
			require.Len(t, after.Current().Hooks, len(class.Current().Hooks))
		})
	}
}

// Without the server another measurement is kept as any form is, and is refused once the next has a result.
func TestAnotherMeasurementWithoutTheServer(t *testing.T) {
	class := tell(t, "floating-ft", begun("281.36", "keep")...)
	again, next := measuredForm(remeasurable(class), "281.4"), resultOf(class, "263.1", uuid.New())
	alone := goOnBooth(t, given(class), []KeptForm{again, next}, nil)
	require.Empty(t, alone.Stands)
	require.Contains(t, alone.Main, "corrected: measured again")

	late := goOnBooth(t, given(class), []KeptForm{next}, &again)
	require.True(t, late.Refused)
	require.Contains(t, late.Main, "&#34;281.4&#34; was not stored. That hook is not the last one any more")
	require.Equal(t, measuredAgain, formOf(again.Act, url.Values{"word": {measuredAgain}}))
	require.NotContains(t, late.Main, `value="281.4"`, "it does not wait in the form of another hook")
}
