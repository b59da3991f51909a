//go:build linux

package private

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Names and bounds of sockets, which the kernel and PostgreSQL give.
const (
	// socketName is what PostgreSQL calls its socket; the number is a name here, not a port of the network.
	socketName = ".s.PGSQL.5432"
	// socketRoom is how many bytes the kernel has for a socket's path.
	socketRoom = 107
)

// fits reports whether a socket in dir can be reached: its path must be short, and PostgreSQL and its clients take a
// comma for the end of a name.
func fits(dir string) bool {
	return len(filepath.Join(dir, socketName)) <= socketRoom && !strings.ContainsAny(dir, `,"`)
}

// socketDir returns the folder for the socket, made for the account alone: DIR/run, or a short folder among the
// temporary ones that DIR/socket points to, so that a start after a crash uses the same one again.
func (f folder) socketDir(a account) (string, error) {
	if fits(f.run()) {
		if err := a.claim(f.run()); err != nil {
			return "", fmt.Errorf("the folder for the database's socket cannot be made; choose another folder with --data: %w", err)
		}
		return f.run(), nil
	}
	if dir, err := os.Readlink(f.shortcut()); err == nil && fits(dir) && a.owns(dir) {
		return dir, nil
	}
	dir, err := shortDir(a)
	if err != nil {
		return "", fmt.Errorf("the data folder %s is too long for a socket, and no short folder can be made instead; "+
			"choose another folder with --data: %w", f, err)
	}
	_ = os.Remove(f.shortcut())
	if err := os.Symlink(dir, f.shortcut()); err != nil {
		_ = os.Remove(dir)
		return "", fmt.Errorf("the short folder for the socket cannot be noted; choose another folder with --data: %w", err)
	}
	return dir, nil
}

// shortDir makes a new folder with a name that nobody can foresee, for the account alone.
func shortDir(a account) (string, error) {
	parent := os.TempDir() // TMPDIR may be long itself.
	if !fits(filepath.Join(parent, "clayline-0123456789")) {
		parent = "/tmp"
	}
	dir, err := os.MkdirTemp(parent, "clayline-")
	if err != nil {
		return "", err
	}
	err = a.claim(dir)
	if err == nil && !a.owns(dir) {
		err = fmt.Errorf("%s does not belong to the user %s alone", dir, a.name)
	}
	if err != nil {
		_ = os.Remove(dir)
		return "", err
	}
	return dir, nil
}

// dropSocket removes a short folder that is no longer used. One that PostgreSQL had no time to empty stays for the next
// start.
func (f folder) dropSocket(dir string) {
	if dir != f.run() && os.Remove(dir) == nil {
		_ = os.Remove(f.shortcut())
	}
}
