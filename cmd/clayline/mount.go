package main

import (
	"net/http"

	"clayline/api"
	"clayline/webui"
)

// mount puts the interface for programs beside the pages.
func mount(site *webui.Site, programs *api.Server) http.Handler {
	mux := http.NewServeMux()
	mux.Handle("/", site.Handler())
	handler := programs.Handler()
	mux.Handle("/api", handler)
	mux.Handle("/api/", handler)
	return mux
}
