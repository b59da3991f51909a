//go:build linux

package private

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
)

// owner is the superuser of the cluster and database the one in it that the program uses.
const (
	owner    = "clayline_owner"
	database = "clayline"
)

// create makes the cluster. initdb works in a folder beside the final one, so that an interrupted start leaves no half
// of a cluster under the name data; whoever is not let in there is told before initdb runs.
func (s *Server) create(ctx context.Context) (err error) {
	s.log.Info("making the database; this happens once", "data", s.folder.data(), "postgres", s.tools.dir)
	dir, err := os.MkdirTemp(string(s.folder), staging)
	if err != nil {
		return fmt.Errorf("the database cannot be made in %s; choose another folder with --data: %w", s.folder, err)
	}
	defer func() {
		if err != nil {
			_ = os.RemoveAll(dir)
		}
	}()
	if err := s.account.claim(dir); err != nil {
		return fmt.Errorf("the new database cannot be given to the user %s; choose another folder with --data: %w", s.account.name, err)
	}
	if err := s.prove(ctx, dir); err != nil {
		return err
	}
	if err := s.initdb(ctx, dir); err != nil {
		return err
	}
	// initdb has flushed the files; the name is what makes them the cluster.
	if err := os.Rename(dir, s.folder.data()); err != nil {
		return fmt.Errorf("the new database cannot be put in place; choose another folder with --data: %w", err)
	}
	if err := s.folder.sync(); err != nil {
		return fmt.Errorf("the new database cannot be put in place durably; check the disk: %w", err)
	}
	return nil
}

// initdb fills dir. Text sorts by code point and upper case knows all letters; a machine without that locale gets the
// plain one.
func (s *Server) initdb(ctx context.Context, dir string) error {
	said, err := s.runInitdb(ctx, dir, "C.UTF-8") // On failure initdb empties the folder it was given.
	if err != nil && ctx.Err() == nil && strings.Contains(said, "locale") {
		said, err = s.runInitdb(ctx, dir, "C")
	}
	if err != nil {
		return fmt.Errorf("PostgreSQL's initdb could not make the database in %s (%w); it said:\n%s",
			s.folder, err, strings.TrimSpace(said))
	}
	return nil
}

// runInitdb runs initdb once. Whoever reaches the socket is trusted, because only the account and root do.
func (s *Server) runInitdb(ctx context.Context, dir, locale string) (string, error) {
	cmd := exec.CommandContext(ctx, s.tools.initdb(),
		"-D", dir, "-U", owner, "-A", "trust", "-E", "UTF8", "--locale="+locale)
	cmd.Dir, cmd.SysProcAttr = "/", s.account.attributes()
	return runLocked(cmd)
}

// prove checks, as the account, the way to the programs, to the socket and to the cluster in dir.
func (s *Server) prove(ctx context.Context, dir string) error {
	const installed, elsewhere = "use a PostgreSQL that is installed elsewhere", "choose another folder with --data"
	owned := fmt.Sprintf("%s, or give it to that user (chown -R %s %s)", elsewhere, s.account.name, dir)
	return s.account.prove(ctx, slices.Concat(
		passages(s.tools.dir, installed),
		[]need{{"-x", s.tools.initdb(), "run", installed}, {"-x", s.tools.postgres(), "run", installed}},
		passages(dir, elsewhere),
		[]need{{"-w", dir, "write in the folder", owned}},
		passages(s.socket, elsewhere),
	))
}
