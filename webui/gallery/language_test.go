package gallery_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/webui/gallery"
	"clayline/webui/language"
)

// Every sentence of every page is in the catalogue, and what people typed is marked: a text that the catalogue does not
// know is either a sentence that somebody forgot, or a name that could be taken for one.
func TestEveryPageIsSaidInEveryLanguage(t *testing.T) {
	t.Parallel()
	for _, l := range language.Others() {
		for _, p := range gallery.Pages() {
			t.Run(l.Tag()+"/"+p.Name, func(t *testing.T) {
				t.Parallel()
				text, _ := render(t, p)
				_, unknown := l.Page([]byte(text))
				slices.Sort(unknown)
				require.Empty(t, slices.Compact(unknown))
			})
		}
	}
}
