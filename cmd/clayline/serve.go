package main

import (
	"context"
	"crypto/rand"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"time"

	"github.com/google/uuid"

	"clayline/api"
	"clayline/domain"
	"clayline/domain/desk"
	"clayline/migrations"
	"clayline/postgres"
	"clayline/postgres/private"
	"clayline/webui"
)

// Bounds of one request and of the end of the program. A phone on a fairground may be slow to send, so that the
// body has half a minute; a stream of events sets bounds of its own. At the end, what is under way gets two
// seconds.
const (
	headerTimeout = 10 * time.Second
	bodyTimeout   = 30 * time.Second
	idleTimeout   = 2 * time.Minute
	drainTimeout  = 2 * time.Second
)

// house is where the program keeps its data and where it listens; flags of every command that serves. With a
// DatabaseURL the two last are not looked at. The address is this machine alone until somebody chooses another:
// a program that was started to look at it should not be on the fairground's network.
type house struct {
	Addr        string `default:"127.0.0.1:8080" help:"Address to listen on."`
	Cert        string `help:"Certificate of the server, with those between, in PEM: serves HTTPS." placeholder:"FILE" type:"path"`
	Key         string `help:"Private key of the certificate, in PEM." placeholder:"FILE" type:"path"`
	DatabaseURL string `name:"database-url" env:"DATABASE_URL" help:"PostgreSQL server to use instead of the private one." placeholder:"URL"`
	Data        string `help:"Data folder of the private PostgreSQL." placeholder:"DIR"`
	PostgresBin string `name:"postgres-bin" env:"CLAYLINE_POSTGRES_BIN" help:"Folder with the postgres and initdb programs." placeholder:"DIR"`
	Streams     int    `default:"8000" help:"How many open pages may be told of changes at once."`
	PerAddress  int    `name:"streams-per-address" default:"2000" help:"How many of them from one address."`
	Reminders   string `help:"Remind phones that ask of their hook, through the push services of their browsers; whom those may turn to, as mailto:NAME@PLACE or an https address." placeholder:"CONTACT"`
}

// spareFiles are the open files that streams leave to the rest: the database, pages that are being read, listening.
const spareFiles = 256

// pace is how streams are bound and timed, where the process may have that many files open. A bound below 1 would leave
// every page without a stream, which nobody means. Each stream is an open file; with fewer than are asked for, some
// people are refused politely, and without the bound nobody would get through, nor the server to its database.
func (h house) pace(files int) (api.Pace, error) {
	pace := api.UsualPace()
	pace.Streams, pace.PerAddress = h.Streams, h.PerAddress
	if h.Streams < 1 || h.PerAddress < 1 {
		return pace, &callError{fmt.Errorf("--streams %d and --streams-per-address %d cannot be; write 1 or more for both", h.Streams, h.PerAddress)}
	}
	if files < pace.Streams+spareFiles {
		pace.Streams = max(files, 2*spareFiles) - spareFiles
	}
	return pace, nil
}

// encryption reads the certificate to serve with, nil for none. It is read before anything is opened, so that a wrong file
// is said at once. A certificate without its key, or the other way round, is a slip that would serve without HTTPS.
func (h house) encryption() (*tls.Config, error) {
	if h.Cert == "" && h.Key == "" {
		return nil, nil
	}
	if h.Cert == "" || h.Key == "" {
		return nil, &callError{errors.New("--cert and --key belong together; give both, or neither")}
	}
	pair, err := tls.LoadX509KeyPair(h.Cert, h.Key)
	if err != nil {
		return nil, &callError{fmt.Errorf("the certificate cannot be used; give --cert and --key as PEM files that belong together: %w", err)}
	}
	return &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"}}, nil
}

// serveCommand serves what is in the database, and makes the database where there is none. A second start goes on with
// what is there.
type serveCommand struct {
	house
}

// Run serves until the context ends. While nobody has entered the desk it prints an entry link for it, a new
// one at each start: without one nobody could make another.
func (c serveCommand) Run(ctx context.Context, s streams) error {
	return c.open(ctx, s, "", func(ctx context.Context, h opened) error {
		d, address := h.desk, h.address
		entered, err := d.DeskEntered(ctx)
		if err != nil {
			return err
		}
		fmt.Fprintf(s.out, "Clayline serves %s\n", address)
		if entered {
			return nil
		}
		_, secret, err := d.IssuePass(ctx, desk.Program(), "", uuid.New(), domain.Desk)
		if err == nil {
			fmt.Fprintf(s.out, "Nobody has entered the desk yet. This link lets one device in, once:\n  %s%s\n", address, webui.EnterPath(secret))
		}
		return err
	})
}

// opened is a house with its database open, about to serve. It is what a command gets to prepare and to tell. What it
// holds is closed after serving, and not by whoever gets it.
type opened struct {
	store   *postgres.Store
	desk    *desk.Desk
	address string // how a browser on this machine reaches it
}

// open opens the database, migrates it, listens, calls ready, and serves until the context ends. name tells
// apart the data folders of different commands under the default place. An error of ready ends it before
// anything is served.
//
// It listens before the database is touched: an address that is taken is the most common mistake, and must not
// cost a migration. What was opened is closed in the reverse order, the private database last.
func (h house) open(ctx context.Context, s streams, name string, ready func(context.Context, opened) error) (err error) {
	pace, err := h.pace(openFiles())
	if err != nil {
		return err
	}
	encryption, err := h.encryption()
	if err != nil {
		return err
	}
	if err := h.contact(); err != nil {
		return err
	}
	log := slog.New(slog.NewTextHandler(s.err, &slog.HandlerOptions{Level: slog.LevelWarn}))
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", h.Addr)
	if err != nil {
		return fmt.Errorf("cannot listen on %s; choose another address with --addr: %w", h.Addr, err)
	}
	defer func() { _ = listener.Close() }() // closed already when it was served
	scheme := "http://"
	if encryption != nil {
		scheme, listener = "https://", tls.NewListener(listener, encryption)
	}
	url, failed, stop, err := h.database(ctx, log, name)
	if err != nil {
		return err
	}
	// Joined, so that neither hides the other: a failed start may be followed by a database that did not close.
	defer func() { err = errors.Join(err, stop()) }()
	if err := postgres.Migrate(ctx, url, migrations.Files); err != nil {
		return err
	}
	store, err := postgres.Open(ctx, url)
	if err != nil {
		return err
	}
	defer store.Close()
	d := desk.New(store, clock, rand.Reader, brotliCoding())
	if err := ready(ctx, opened{store: store, desk: d, address: scheme + visible(listener.Addr())}); err != nil {
		return err
	}
	if pace.Streams < h.Streams {
		fmt.Fprintf(s.err, "Only %d open pages can be told of changes at once: this system lets the program open %d files. Raise the limit (ulimit -n) for %d.\n",
			pace.Streams, openFiles(), h.Streams)
	}
	fmt.Fprintln(s.out, "Press Ctrl-C to stop.")
	following, unfollow := context.WithCancel(ctx)
	defer unfollow()
	go follow(following, d.Live(), store)
	programs, site := api.New(d, clock, log, pace), webui.New(d, clock, log)
	if h.Reminders != "" {
		reminders, key, err := h.remind(ctx, d, store, log)
		if err != nil {
			return err
		}
		site = site.Reminding(reminders, key)
		go reminders.Run(following)
	}
	return serve(ctx, listener, mount(site, programs), programs.Close, failed, s.out)
}

// clock is the one clock of the program; everything below gets it as an argument, and tests give another.
func clock() time.Time { return time.Now() }

// database returns the address of the database to use, a channel that tells when it is lost for good, and how
// to stop what was started for it. For a database of somebody else the channel is nil, on which nothing is ever
// received, and stopping does nothing: its coming and going is not this program's business.
func (h house) database(ctx context.Context, log *slog.Logger, name string) (url string, failed <-chan error, stop func() error, err error) {
	if h.DatabaseURL != "" {
		return h.DatabaseURL, nil, func() error { return nil }, nil
	}
	dir := h.Data
	if dir == "" {
		if dir, err = private.DefaultDir(); err != nil {
			return "", nil, nil, err
		}
		dir += name
	}
	server, err := private.Start(ctx, private.Options{Dir: dir, BinDir: h.PostgresBin, Log: log})
	if err != nil {
		return "", nil, nil, err
	}
	return server.URL(), server.Failed(), func() error {
		ctx, cancel := context.WithTimeout(context.WithoutCancel(ctx), drainTimeout)
		defer cancel()
		return server.Stop(ctx)
	}, nil
}

// visible is the address a browser on this machine can open: what listens everywhere has no name that a browser knows,
// and localhost reaches it. [::]:8080 and 0.0.0.0:8080 give localhost:8080; 192.0.2.7:8080 stays what it is.
func visible(addr net.Addr) string {
	host, port, err := net.SplitHostPort(addr.String())
	if err != nil {
		return addr.String()
	}
	if ip := net.ParseIP(host); ip == nil || ip.IsUnspecified() {
		host = "localhost"
	}
	return net.JoinHostPort(host, port)
}

// serve answers requests until the context ends or the database is lost, then lets what is under way finish.
// ending is called first then: it ends what would never finish by itself, such as a stream. It returns nil when
// the context ended, and why the database was lost otherwise.
func serve(ctx context.Context, listener net.Listener, handler http.Handler, ending func(), failed <-chan error, out io.Writer) error {
	server := &http.Server{
		Handler: handler, ReadHeaderTimeout: headerTimeout, ReadTimeout: bodyTimeout, WriteTimeout: bodyTimeout, IdleTimeout: idleTimeout,
	}
	// A stream sets deadlines of its own for each write: the one for a whole answer would end it after half a minute.
	server.RegisterOnShutdown(ending)
	served := make(chan error, 1)
	go func() { served <- server.Serve(listener) }()
	var lost error
	select {
	case err := <-served:
		return err
	// Without its database the program can do nothing; it ends with the reason, for whoever starts it again.
	case lost = <-failed:
	case <-ctx.Done():
		fmt.Fprintln(out, "Stopping.")
	}
	// The context has ended by now, and would end the draining at once.
	drain, cancel := context.WithTimeout(context.WithoutCancel(ctx), drainTimeout)
	defer cancel()
	if err := server.Shutdown(drain); err != nil {
		_ = server.Close() // what did not finish in time is cut
	}
	return lost
}
