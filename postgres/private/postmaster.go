//go:build linux

package private

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// busyPatience is how long a start is tried again while something dead still seems to use the data: PostgreSQL takes a
// zombie for a living postmaster, and who reaps orphans may take seconds over it.
const (
	busyPatience = 15 * time.Second
	busyPause    = 100 * time.Millisecond
)

// answerPatience is how long a running child may take to answer: recovery from a long log takes minutes on a slow disk.
const answerPatience = 10 * time.Minute

// errEnded says that the child ended before it answered; what it said is in its log.
var errEnded = errors.New("PostgreSQL ended while it was starting")

// errBusy marks a start that PostgreSQL refused because the data seemed to be in use.
var errBusy = errors.New("the data folder still seems to be in use")

// raise starts the child and returns when it answers. What runs over the data is stopped before each try: the
// caller holds the lock and has no living child, so nothing may.
func (s *Server) raise(ctx context.Context) (*process, error) {
	patience, cancel := context.WithTimeout(ctx, busyPatience)
	defer cancel()
	tick := time.NewTicker(busyPause)
	defer tick.Stop()
	for {
		if err := evict(ctx, s.folder.data(), s.socket, s.log); err != nil {
			return nil, err
		}
		child, err := s.attempt(ctx)
		if !errors.Is(err, errBusy) {
			return child, err
		}
		select {
		case <-tick.C:
		case <-patience.Done():
			return nil, err
		}
	}
}

// attempt starts the child once. It ends with an answering child or with none.
func (s *Server) attempt(ctx context.Context) (*process, error) {
	log, err := s.folder.openLog()
	if err != nil {
		return nil, err
	}
	defer log.Close()
	info, err := log.Stat()
	if err != nil {
		return nil, fmt.Errorf("the database's log cannot be read; check the disk: %w", err)
	}
	cmd := s.command()
	cmd.Stdout, cmd.Stderr = log, log
	child, err := launch(cmd) // The child has the log open for itself from here on.
	if err != nil {
		return nil, fmt.Errorf("PostgreSQL cannot be started; reinstall it or use DATABASE_URL: %w", err)
	}
	err = s.await(ctx, child)
	if err == nil {
		return child, nil
	}
	if child.alive() { // It refused, or the caller lost patience: its log has nothing to add to err.
		patience, cancel := context.WithTimeout(context.WithoutCancel(ctx), fastPatience)
		defer cancel()
		_ = child.halt(patience)
		return nil, err
	}
	said := lastLines(log, info.Size())
	err = fmt.Errorf("%w (%s); its log %s ends with:\n%s", errEnded, child.cmd.ProcessState, s.folder.log(), said)
	if looksBusy(said) {
		err = fmt.Errorf("%w: %w", errBusy, err)
	}
	return nil, err
}

// command is the postmaster: no network, a socket for the account alone, and memory for a laptop. Everything
// that makes a commit durable is as PostgreSQL has it: a result that was stored is on the disk. The log goes
// where the program says, since a collector of its own would outlive it. The context is not the start's, which
// ends long before the child does.
func (s *Server) command() *exec.Cmd {
	cmd := exec.Command(s.tools.postgres(), //nolint:noctx // it outlives the start, and Stop ends it in its own way
		"-D", s.folder.data(),
		"-k", s.socket,
		"-p", "5432",
		"-c", "listen_addresses=",
		"-c", "unix_socket_permissions=0700",
		"-c", "cluster_name=clayline",
		"-c", "max_connections=100",
		"-c", "shared_buffers=64MB",
		"-c", "logging_collector=off",
		"-c", "log_destination=stderr",
	)
	cmd.Dir, cmd.SysProcAttr, cmd.Env = "/", s.account.attributes(), environment()
	return cmd
}

// looksBusy reports whether PostgreSQL refused because of a postmaster.pid or shared memory that something
// holds. Its words are English whatever the machine speaks, because the child's environment says so.
func looksBusy(said string) bool {
	return strings.Contains(said, "lock file") && strings.Contains(said, "already exists") ||
		strings.Contains(said, "pre-existing shared memory block")
}

// await returns nil when the database answers, and an error when the child has ended, has refused, or ctx has
// ended. A refusal that does not pass by itself ends the wait: somebody changed the settings of the cluster,
// and waiting would hide it.
func (s *Server) await(ctx context.Context, child *process) error {
	ctx, cancel := context.WithTimeout(ctx, answerPatience)
	defer cancel()
	tick := time.NewTicker(5 * time.Millisecond)
	defer tick.Stop()
	for {
		err := s.ask(ctx, child)
		if err == nil {
			return nil
		}
		if !passing(refusal(err)) {
			return fmt.Errorf("the database in %s does not let Clayline in; undo the last change to its settings: %w", s.folder, err)
		}
		select {
		case <-tick.C:
		case <-child.done:
			return errEnded
		case <-ctx.Done():
			return fmt.Errorf("the database in %s runs but does not answer; read %s: %w", s.folder, s.folder.log(), err)
		}
	}
}

// errStarting says that the child has not yet written that it is ready.
var errStarting = errors.New("it is still starting or recovering")

// ask connects and asks once, and makes the program's database where it is missing (code 3D000): in the first
// start, or after one that was cut short. A child that is not ready is not asked; each question would cost it a
// process and a line in its log.
func (s *Server) ask(ctx context.Context, child *process) error {
	if !ready(s.folder.data(), child.cmd.Process.Pid) {
		return errStarting
	}
	err := s.answer(ctx, database, "SELECT 1")
	if refusal(err) == "3D000" {
		err = s.answer(ctx, "postgres", "CREATE DATABASE "+database)
	}
	return err
}

// refusal returns the code with which the database itself refused, or "" when it could not be asked. The codes
// are those of appendix A of PostgreSQL's manual.
func refusal(err error) string {
	if refused, ok := errors.AsType[*pgconn.PgError](err); ok {
		return refused.Code
	}
	return ""
}

// passing reports whether a refusal ends by itself: nobody answers yet, the database is starting (class 57), or it is
// short of connections (53300).
func passing(code string) bool {
	return code == "" || strings.HasPrefix(code, "57") || code == "53300"
}

// answer runs one statement on a connection of its own. It needs no limit of time: when the child dies the connection
// breaks.
func (s *Server) answer(ctx context.Context, name, statement string) error {
	conn, err := pgx.Connect(ctx, s.address(name))
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	_, err = conn.Exec(ctx, statement)
	return err
}
