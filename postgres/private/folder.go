//go:build linux

package private

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// folder is the data folder, absolute and free of links. Its methods are the only names used inside it.
type folder string

// data is the cluster. Its name is given by a rename when it is whole, so that what is called so can be used.
func (f folder) data() string { return filepath.Join(string(f), "data") }

// run is the folder of the socket.
func (f folder) run() string { return filepath.Join(string(f), "run") }

// lock is the file that a running program holds.
func (f folder) lock() string { return filepath.Join(string(f), "lock") }

// log is what PostgreSQL said.
func (f folder) log() string { return filepath.Join(string(f), "postgres.log") }

// shortcut is the link to the folder of the socket when run is too long for one.
func (f folder) shortcut() string { return filepath.Join(string(f), "socket") }

// staging is how the name of a cluster in the making begins; digits follow.
const staging = "data.new-"

// openFolder makes dir where it is absent. A new folder of root's lets others pass, whatever the umask, because
// PostgreSQL runs as another user; what lies in it has narrower rights of its own.
func openFolder(dir string) (folder, error) {
	if dir == "" {
		return "", errors.New("no data folder was named; name one with --data")
	}
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", fmt.Errorf("the data folder %s has no absolute name; name another one with --data: %w", dir, err)
	}
	mode := fs.FileMode(0o700)
	if os.Geteuid() == 0 {
		mode = 0o711
	}
	_, absent := os.Stat(dir)
	if err := os.MkdirAll(dir, mode); err != nil {
		return "", fmt.Errorf("the data folder cannot be made; choose another one with --data: %w", err)
	}
	if errors.Is(absent, fs.ErrNotExist) {
		if err := os.Chmod(dir, mode); err != nil {
			return "", fmt.Errorf("the new data folder cannot be opened to PostgreSQL; choose another one with --data: %w", err)
		}
	}
	// One folder, one name: a postmaster is known by the folder on its command line.
	if dir, err = filepath.EvalSymlinks(dir); err != nil {
		return "", fmt.Errorf("the data folder cannot be followed to its place; choose another one with --data: %w", err)
	}
	return folder(dir), nil
}

// version returns the major version of the cluster in the folder, or "" when there is no cluster yet. A folder
// called data that is no cluster is somebody's, and an error.
func (f folder) version() (string, error) {
	text, err := os.ReadFile(filepath.Join(f.data(), "PG_VERSION"))
	if err == nil {
		return strings.TrimSpace(string(text)), nil
	}
	if !errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("the database in %s cannot be read; start Clayline as the user who owns it or as root, "+
			"or choose another folder with --data: %w", f.data(), err)
	}
	if _, err := os.Lstat(f.data()); err == nil {
		return "", fmt.Errorf("%s is there but holds no database, and Clayline does not touch what it did not make; "+
			"move it away or choose another folder with --data", f.data())
	}
	return "", nil
}

// sweep removes clusters that an interrupted first start left half made. Their names are the package's own pattern;
// what cannot be removed is harmless and stays.
func (f folder) sweep() {
	entries, err := os.ReadDir(string(f))
	if err != nil {
		return
	}
	for _, e := range entries {
		digits, ours := strings.CutPrefix(e.Name(), staging)
		if ours && digits != "" && strings.Trim(digits, "0123456789") == "" && e.IsDir() {
			_ = os.RemoveAll(filepath.Join(string(f), e.Name()))
		}
	}
}

// sync makes the names in the folder durable: a rename that the disk has not seen is lost with the power.
func (f folder) sync() error {
	dir, err := os.Open(string(f))
	if err != nil {
		return err
	}
	defer dir.Close()
	return dir.Sync()
}
