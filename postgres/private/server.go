//go:build linux

package private

import (
	"context"
	"fmt"
	"log/slog"
	"net/url"
	"os"
	"strings"
	"sync"
	"time"
)

// Server is a running private database. All its methods may be called at the same time.
type Server struct {
	folder  folder
	tools   binaries
	account account // whom the child runs as
	socket  string  // the folder of the socket
	log     *slog.Logger
	lock    *os.File // held until release
	child   *process // the watch's own until watched is closed

	failed  chan error         // has room for the one error, so that the watch never waits for a reader
	cancel  context.CancelFunc // ends the watch
	watched chan struct{}      // closed when the watch has ended
	once    sync.Once
	stopErr error
}

// Start starts the private database in opts.Dir, making it when it is not there, and returns when it answers. The
// folder is this program's until [Server.Stop]. ctx bounds the start alone: when it ends first, nothing is left
// running. Every error says what is in the way and what to do about it.
func Start(ctx context.Context, opts Options) (*Server, error) {
	s, err := start(ctx, opts)
	if err != nil && ctx.Err() != nil {
		return nil, fmt.Errorf("the start of the private database was called off; start again: %w", ctx.Err())
	}
	return s, err
}

// start does the work of [Start].
func start(ctx context.Context, opts Options) (*Server, error) {
	f, err := openFolder(opts.Dir)
	if err != nil {
		return nil, err
	}
	s := &Server{folder: f, log: opts.Log, failed: make(chan error, 1), watched: make(chan struct{})}
	if s.log == nil {
		s.log = slog.New(slog.DiscardHandler)
	}
	if s.lock, err = f.acquire(ctx); err != nil {
		return nil, err
	}
	if err := s.open(ctx, opts.BinDir); err != nil {
		s.release()
		return nil, err
	}
	pauses := opts.pauses
	if pauses == nil {
		pauses = defaultPauses()
	}
	// The database lives on when the start's context ends.
	life, cancel := context.WithCancel(context.WithoutCancel(ctx))
	s.cancel = cancel
	go s.watch(life, pauses)
	return s, nil
}

// open finds out what is there, makes what is missing and starts the child. Nothing of a cluster is touched before its
// version is known to fit and its user is known to reach it.
func (s *Server) open(ctx context.Context, binDir string) error {
	version, err := s.folder.version()
	if err != nil {
		return err
	}
	where := search{chosen: binDir, pattern: debianFolders, path: os.Getenv("PATH")}
	if s.tools, err = where.find(ctx, version, s.folder); err != nil {
		return err
	}
	if s.account, err = chooseAccount(s.folder); err != nil {
		return err
	}
	if s.socket, err = s.folder.socketDir(s.account); err != nil {
		return err
	}
	s.folder.sweep()
	if version == "" {
		err = s.create(ctx)
	} else {
		err = s.prove(ctx, s.folder.data())
	}
	if err != nil {
		return err
	}
	if err := s.folder.trimLog(); err != nil {
		return err
	}
	s.child, err = s.raise(ctx)
	return err
}

// URL returns the address of the database "clayline" for the owner of the cluster, a superuser. It stays the same,
// through restarts of the database too.
func (s *Server) URL() string { return s.address(database) }

// address is the URL of one database of the cluster. The folder of a socket cannot be the host of a URL and is a
// parameter instead, as psql and pgx both read it; to both of them a plus is a plus, and a space is %20.
func (s *Server) address(name string) string {
	host := strings.ReplaceAll(url.QueryEscape(s.socket), "+", "%20")
	return "postgres://" + owner + "@/" + name + "?host=" + host + "&port=5432"
}

// Failed returns a channel that gets one error when the database has died and could not be brought back; it gets none
// when the database is stopped. The program cannot go on then: Stop, tell, end.
func (s *Server) Failed() <-chan error { return s.failed }

// Stop closes the database cleanly, cutting connections that are open, and gives the folder back. When ctx ends before
// it has closed, it is stopped at once and recovers at the next start; no committed row is lost either way. Later calls
// return what the first one returned.
func (s *Server) Stop(ctx context.Context) error {
	s.once.Do(func() {
		s.cancel()
		<-s.watched
		s.stopErr = s.child.halt(ctx)
		s.release()
	})
	return s.stopErr
}

// release gives up the folder. The lock goes last: who waits for it may use everything else at once.
func (s *Server) release() {
	if s.socket != "" {
		s.folder.dropSocket(s.socket)
	}
	_ = s.lock.Close()
}

// quiet is how long the database must run after a restart for the earlier deaths to be forgotten.
const quiet = time.Minute

// defaultPauses are the waits before the restarts that follow each other without a quiet minute; after the last the
// watch gives up. The first is none: a crowd is waiting.
func defaultPauses() []time.Duration {
	return []time.Duration{0, 250 * time.Millisecond, time.Second, 3 * time.Second, 6 * time.Second, 10 * time.Second}
}

// watch brings the child back whenever it dies, until ctx ends. It alone changes s.child. A restart that fails
// counts as a death: both mean that something is wrong which a restart may not mend.
func (s *Server) watch(ctx context.Context, pauses []time.Duration) {
	defer close(s.watched)
	var cause error // why the last restart failed
	for deaths := 0; ; {
		select {
		case <-ctx.Done():
			return
		case <-time.After(quiet):
			deaths = 0
			continue
		case <-s.child.done:
		}
		if cause == nil {
			cause = fmt.Errorf("its process ended (%s)", s.child.cmd.ProcessState)
		}
		if deaths == len(pauses) {
			s.failed <- fmt.Errorf("the database died and %d restarts did not help; read %s, then start Clayline again: %w",
				deaths, s.folder.log(), cause)
			return
		}
		s.log.Error("the database died and is started again", "error", cause, "restart", deaths+1)
		if poll(ctx, pauses[deaths], func() bool { return false }); ctx.Err() != nil {
			return
		}
		deaths++
		child, err := s.raise(ctx)
		if cause = err; err == nil {
			s.child = child
			s.log.Info("the database answers again")
		} // Otherwise the dead child's done is still closed, and the next turn tries again.
	}
}
