//go:build !linux

package private

import (
	"context"
	"errors"
)

// Server is a running private database, which exists on Linux only.
type Server struct{}

// Start refuses: the promise to leave no process behind rests on what the Linux kernel does when a parent dies.
func Start(context.Context, Options) (*Server, error) {
	return nil, errors.New("the private database runs on Linux only; start a PostgreSQL server and name it in DATABASE_URL")
}

// URL returns nothing, since nothing runs.
func (*Server) URL() string { return "" }

// Stop does nothing, since nothing runs.
func (*Server) Stop(context.Context) error { return nil }

// Failed returns a channel that stays silent, since nothing runs.
func (*Server) Failed() <-chan error { return nil }
