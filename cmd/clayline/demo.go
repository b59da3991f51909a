package main

import (
	"context"
	"fmt"
	"io"
	"text/tabwriter"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui"
)

// demoCommand serves an invented event. It is the whole program on a data folder of its own, so that what is
// tried on it never meets a real event.
type demoCommand struct {
	house
}

// Run loads the invented event when it is not there yet, prints where to look, and serves until the context
// ends. A second start goes on with what was done in the first.
func (c demoCommand) Run(ctx context.Context, s streams) error {
	return c.open(ctx, s, "-demo", func(ctx context.Context, h opened) error {
		events, err := h.desk.Events(ctx)
		if err != nil {
			return err
		}
		if len(events) == 0 {
			fmt.Fprintln(s.out, "Loading the invented event.")
			if err := loadInvented(ctx, h.store, clock()); err != nil {
				return err
			}
		}
		return printAddresses(ctx, s.out, h.desk, h.address)
	})
}

// printAddresses prints where to look, the public event page first, with a fresh entry link for each role. The invented
// event is the oldest of the events, since others may have been planned beside it. The links are fresh because those of
// the last start may be used up, and only their hashes were kept.
func printAddresses(ctx context.Context, out io.Writer, d *desk.Desk, address string) error {
	events, err := d.Events(ctx)
	if err != nil {
		return err
	}
	if len(events) == 0 {
		return fmt.Errorf("the demo has no event; remove its data folder and start again")
	}
	event := address + "/e/" + events[len(events)-1].Slug
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(table, "Event\t%s\n", event)
	fmt.Fprintf(table, "One class\t%s/%s\n", event, domain.Slug(inventedClass))
	for _, role := range []domain.Role{domain.Booth, domain.Cab, domain.Scale, domain.Lane, domain.Desk} {
		_, secret, err := d.IssuePass(ctx, desk.Program(), events[len(events)-1].Slug, uuid.New(), role)
		if err != nil {
			return err
		}
		fmt.Fprintf(table, "%s (lets one device in)\t%s%s\n", titles[role], address, webui.EnterPath(secret))
	}
	return table.Flush()
}

// titles are the roles as they begin a line of that table.
var titles = map[domain.Role]string{domain.Booth: "Booth", domain.Cab: "Cab", domain.Scale: "Scale", domain.Lane: "Lane", domain.Desk: "Desk"}
