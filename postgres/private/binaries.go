//go:build linux

package private

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// debianFolders is where Debian and Ubuntu keep PostgreSQL, one folder a major version, none of them in PATH.
const debianFolders = "/usr/lib/postgresql/*/bin"

// binaries is a folder that holds postgres and initdb of one major version.
type binaries struct {
	dir   string
	major string
}

// postgres is the server.
func (b binaries) postgres() string { return filepath.Join(b.dir, "postgres") }

// initdb makes a cluster; it runs the postgres beside it.
func (b binaries) initdb() string { return filepath.Join(b.dir, "initdb") }

// search says where to look for binaries: in chosen alone when it is set, else in the folders that match pattern,
// newest first, and then along path.
type search struct {
	chosen  string
	pattern string
	path    string
}

// find returns the first binaries of the wanted major version, or of any version when wanted is "". A machine that was
// upgraded has several, and the data decides which one runs.
func (s search) find(ctx context.Context, wanted string, f folder) (binaries, error) {
	var others []string
	for _, dir := range s.folders() {
		b := binaries{dir: dir}
		var err error
		if b.major, err = b.version(ctx); err != nil {
			continue // Does not run on this machine: the next one may.
		}
		if wanted == "" || wanted == b.major {
			return b, nil
		}
		others = append(others, b.major)
	}
	switch {
	case len(others) > 0:
		return binaries{}, fmt.Errorf("the database in %s was made by PostgreSQL %s, but this is PostgreSQL %s; "+
			"install that version (apt-get install postgresql-%s) or move the data over with pg_upgrade, "+
			"or choose another folder with --data; nothing was changed",
			f.data(), wanted, strings.Join(slices.Compact(others), " and "), wanted)
	case s.chosen != "":
		return binaries{}, fmt.Errorf("the folder %s has no postgres and initdb that run; name the folder that has both, "+
			"or none to have them searched for", s.chosen)
	default:
		return binaries{}, fmt.Errorf("PostgreSQL is not installed on this machine; install it (apt-get install postgresql "+
			"on Debian and Ubuntu), or name the server to use in DATABASE_URL; looked in %s and in PATH", s.pattern)
	}
}

// folders lists the folders that hold both programs, best first. One without initdb cannot make a cluster and is no
// use, even when its postgres comes first in PATH.
func (s search) folders() []string {
	var dirs []string
	if s.chosen != "" {
		dir, err := filepath.Abs(s.chosen)
		if err != nil {
			return nil
		}
		dirs = []string{dir}
	} else {
		dirs, _ = filepath.Glob(s.pattern) // The one error there is, a bad pattern, leaves the list empty.
		slices.SortFunc(dirs, func(a, b string) int { return cmp.Compare(number(b), number(a)) })
		dirs = append(dirs, filepath.SplitList(s.path)...)
	}
	// A relative folder of PATH means another one wherever the program is started: not for a server that lives long.
	return slices.DeleteFunc(dirs, func(dir string) bool {
		b := binaries{dir: dir}
		return !filepath.IsAbs(dir) || !executable(b.postgres()) || !executable(b.initdb())
	})
}

// number returns the version in a name such as /usr/lib/postgresql/15/bin, or -1.
func number(dir string) int {
	n, err := strconv.Atoi(filepath.Base(filepath.Dir(dir)))
	if err != nil {
		return -1
	}
	return n
}

// executable reports whether path is a file that someone may run.
func executable(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular() && info.Mode()&0o111 != 0
}

// version asks postgres itself for its major version, as PG_VERSION has it: "15" of "postgres (PostgreSQL) 15.18".
func (b binaries) version(ctx context.Context) (string, error) {
	cmd := exec.CommandContext(ctx, b.postgres(), "--version")
	cmd.Dir = "/"
	out, err := cmd.Output()
	if err != nil {
		return "", err
	}
	match := regexp.MustCompile(`\(PostgreSQL\) (\d+)`).FindSubmatch(out)
	if match == nil {
		return "", fmt.Errorf("%s does not name its version; reinstall PostgreSQL", b.postgres())
	}
	return string(match[1]), nil
}
