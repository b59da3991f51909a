package gallery_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"clayline/webui/gallery"
	"clayline/webui/static"
)

func TestTheGalleryIsServed(t *testing.T) {
	t.Parallel()
	get := func(path string) *httptest.ResponseRecorder {
		answer := httptest.NewRecorder()
		gallery.Handler().ServeHTTP(answer, httptest.NewRequest(http.MethodGet, path, nil))
		return answer
	}
	list := get("/").Body.String()
	for _, p := range gallery.Pages() {
		require.Contains(t, list, `href="/`+p.Name+`"`)
	}
	page := get("/class-running")
	require.Equal(t, http.StatusOK, page.Code)
	require.Contains(t, page.Body.String(), static.Href("clayline.css"))
	require.Equal(t, http.StatusOK, get(static.Href("clayline.css")).Code)
	require.Equal(t, http.StatusNotFound, get(static.Prefix+"clayline.000000000000.css").Code)
	require.Contains(t, get("/de/class-running").Body.String(), `<html lang="de"`)
	require.Contains(t, get("/de/").Body.String(), `href="/de/class-running"`)
	nowhere := get("/nowhere")
	require.Equal(t, http.StatusNotFound, nowhere.Code)
	require.True(t, strings.HasPrefix(nowhere.Body.String(), "The gallery has no such page"))
}
