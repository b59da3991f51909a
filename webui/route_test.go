package webui

import (
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/labstack/echo/v4"
	"github.com/stretchr/testify/require"
)

// The list of routes is what the matrix of roles in cmd/clayline is held against: a new route is listed here first,
// and has no place in the matrix until it is said who may use it.
func TestEveryRouteIsListed(t *testing.T) {
	t.Parallel()
	listed, err := os.ReadFile("testdata/routes.txt")
	require.NoError(t, err)
	require.Equal(t, strings.Split(strings.TrimSpace(string(listed)), "\n"), served())
}

// served lists the routes of the site, with the acts of the booth, the cab and the desk one by one.
func served() []string {
	e := echo.New()
	(&Site{}).routes(e)
	var list []string
	for _, r := range e.Routes() {
		known := map[string]acts{"/e/:event/:class/booth/:act": boothActs, "/e/:event/:class/cab/:act": cabActs, "/e/:event/:class/desk/:act": deskActs, "/e/:event/:class/scale/:act": scaleActs, "/e/:event/:class/lane/:act": lineupActs, "/e/:event/:class/flag/:act": flagActs}[r.Path]
		list = append(list, each(r, known)...)
		if r.Path == "/e/:event/desk/programme/:act" {
			list = append(list, each(r, programmeActs)...)
		} else if known == nil {
			list = append(list, r.Method+" "+r.Path)
		}
	}
	slices.Sort(list)
	return list
}

// each lists a route for each of its acts.
func each[T any](r *echo.Route, known map[string]T) []string {
	var list []string
	for act := range maps.Keys(known) {
		list = append(list, r.Method+" "+strings.Replace(r.Path, ":act", act, 1))
	}
	return list
}
