package webui

import (
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/webui/language"
)

// A handler knows nothing of the language in the address, and whoever it sends on stays in it.
func TestAnAddressInALanguage(t *testing.T) {
	t.Parallel()
	seen := ""
	site := inLanguage(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		seen = language.Of(r.Context()).Tag() + " " + r.URL.EscapedPath()
		http.Redirect(w, r, "/e/x/booth?stored=7", http.StatusSeeOther)
	}))
	for address, want := range map[string][2]string{
		"/e/x/booth":      {"en /e/x/booth", "/e/x/booth?stored=7"},
		"/de/e/x/booth":   {"de /e/x/booth", "/de/e/x/booth?stored=7"},
		"/de/p/a%2Fb?q=1": {"de /p/a%2Fb", "/de/e/x/booth?stored=7"},
		"/de":             {"de /", "/de/e/x/booth?stored=7"},
	} {
		answer := httptest.NewRecorder()
		site.ServeHTTP(answer, httptest.NewRequest(http.MethodPost, address, nil))
		require.Equal(t, want, [2]string{seen, answer.Header().Get("Location")}, address)
	}
}
