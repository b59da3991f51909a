package main

import (
	"context"
	"fmt"
	"log/slog"
	"net/url"
	"strings"

	"clayline/domain/desk"
	"clayline/domain/remind"
	"clayline/postgres"
	"clayline/webui/push"
)

// contact refuses a contact that push services would not take: they want to know whom to turn to when a server sends too
// much (RFC 8292, section 2.1).
func (h house) contact() error {
	if h.Reminders == "" {
		return nil
	}
	u, err := url.Parse(h.Reminders)
	mail := err == nil && u.Scheme == "mailto" && strings.Contains(u.Opaque, "@")
	if !mail && (err != nil || u.Scheme != "https" || u.Host == "") {
		return &callError{fmt.Errorf("--reminders %s says nobody whom a push service can turn to; write mailto:NAME@PLACE or an address that begins with https", h.Reminders)}
	}
	return nil
}

// remind makes what reminds phones, with the keys that this server has had since it first did.
func (h house) remind(ctx context.Context, d *desk.Desk, store *postgres.Store, log *slog.Logger) (*remind.Service, string, error) {
	fresh, err := push.NewKeys()
	if err != nil {
		return nil, "", err
	}
	keys, err := store.PushKeys(ctx, fresh)
	if err != nil {
		return nil, "", err
	}
	return remind.New(d, store, push.New(keys, h.Reminders, nil), log), keys.Public, nil
}
