package main

import (
	"net/http"

	"clayline/api"
	"clayline/webui"
)

// mount puts the interface for programs beside the pages. Each answers what it does not find in its own way: a page for
// people, a problem document for programs. /api itself is the reference and is named beside /api/, to which the mux
// would otherwise redirect it.
func mount(site *webui.Site, programs *api.Server) http.Handler {
	mux := http.NewServeMux()
	mux.Handle("/", site.Handler())
	handler := programs.Handler()
	mux.Handle("/api", handler)
	mux.Handle("/api/", handler)
	return mux
}
