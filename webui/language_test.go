package webui

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"
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

// Who reads German types a comma before the decimals, in a form as in a question; who reads English may mean thousands.
func TestNumbersAreReadInTheLanguage(t *testing.T) {
	t.Parallel()
	var form, query string
	site := inLanguage(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		values, err := posted(echo.New().NewContext(r, httptest.NewRecorder()))
		require.NoError(t, err)
		form, query = values.Get("fee"), r.URL.Query().Get("trip")
	}))
	for address, want := range map[string][2]string{"/de/e/x": {"150.50", "176.5"}, "/e/x": {"150,50", "176,5"}} {
		r := httptest.NewRequest(http.MethodPost, address+"?trip=176,5", strings.NewReader("fee=150,50"))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		site.ServeHTTP(httptest.NewRecorder(), r)
		require.Equal(t, want, [2]string{form, query}, address)
	}
}
