package main

import (
	"context"
	"fmt"
	"net"

	"clayline/webui/gallery"
)

// galleryCommand serves every page in every state with an invented event, for whoever works on how pages look.
type galleryCommand struct {
	Addr string `default:"127.0.0.1:8081" help:"Address to listen on."`
}

// Help says what the gallery is not.
func (galleryCommand) Help() string {
	return `There is no database behind it: links lead nowhere, and a form does nothing. To
try the program on an invented event, run "clayline demo".`
}

// Run serves until the context ends.
func (c galleryCommand) Run(ctx context.Context, s streams) error {
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", c.Addr)
	if err != nil {
		return fmt.Errorf("cannot listen on %s; choose another address with --addr: %w", c.Addr, err)
	}
	fmt.Fprintf(s.out, "The gallery is at http://%s/\nPress Ctrl-C to stop.\n", visible(listener.Addr()))
	return serve(ctx, listener, gallery.Handler(), func() {}, nil, s.out)
}
