package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// The settings that name a need's place; the tests read the same ones. CC is Go's own; the others are ours, and are
// read by the program and the tests alike.
const (
	postgresSetting = "CLAYLINE_POSTGRES_BIN"
	chromiumSetting = "CLAYLINE_CHROMIUM"
	compilerSetting = "CC"
)

// machine is what check asks of the machine it runs on, as values, so that a test can make one up.
type machine struct {
	env  func(name string) string
	look func(program string) (string, error) // the program's path, an error when it is absent or not executable
	glob func(pattern string) ([]string, error)
	uid  int // the user's number, 0 is root
	// cache is the folder for what is fetched for the user alone.
	cache func() (string, error)
	run   runner
	out   io.Writer
}

// has tells whether the program, a name on PATH or a path, can be run. It is asked and not run.
func (m machine) has(program string) bool {
	_, err := m.look(program)
	return err == nil
}

// need is something beside Go that the tests cannot do without.
type need struct {
	name     string
	setting  string   // the environment variable that names its place, "" for one that is only looked for on PATH
	packages []string // Debian's packages that bring it

	// fetch brings it into the user's cache where no package of Debian does; nil for the others.
	fetch func(ctx context.Context, m machine) error

	// find returns the setting's value for this machine, "" when the thing is missing, and an error when a setting
	// names a place where it is not: a wrong setting is never passed over in silence.
	find func(ctx context.Context, m machine) (string, error)
}

// told names the need, with the variable that names its place if there is one. "Chromium (CLAYLINE_CHROMIUM)" is a line
// of what is missing.
func (n need) told() string {
	if n.setting == "" {
		return n.name
	}
	return n.name + " (" + n.setting + ")"
}

// needsOf lists what the chosen steps need, each thing once. Things are the same when their names are.
func needsOf(chosen []step) []need {
	var all []need
	for _, s := range chosen {
		for _, n := range s.needs {
			if !slices.ContainsFunc(all, func(other need) bool { return other.name == n.name }) {
				all = append(all, n)
			}
		}
	}
	return all
}

// database is PostgreSQL's server, of which the tests start a private one. Any version will do whose programs are
// whole.
func database() need {
	return need{
		name:     "PostgreSQL's server programs (initdb and postgres)",
		setting:  postgresSetting,
		packages: []string{"postgresql"},
		find:     findDatabase,
	}
}

// findDatabase returns the folder with initdb and postgres: the setting's, else the newest of Debian's, else PATH's.
// Debian keeps the server's programs off PATH, one folder for each version; the newest is found by number, since 9
// sorts after 15 as text.
func findDatabase(_ context.Context, m machine) (string, error) {
	complete := func(folder string) bool {
		return m.has(filepath.Join(folder, "initdb")) && m.has(filepath.Join(folder, "postgres"))
	}
	if folder := m.env(postgresSetting); folder != "" {
		if !complete(folder) {
			return "", fmt.Errorf("%s is %q, but initdb and postgres are not both there; correct it or unset it", postgresSetting, folder)
		}
		return folder, nil
	}
	folders, err := m.glob("/usr/lib/postgresql/*/bin")
	if err != nil {
		return "", err
	}
	slices.SortFunc(folders, func(a, b string) int { return cmp.Compare(major(b), major(a)) })
	if path, err := m.look("postgres"); err == nil {
		folders = append(folders, filepath.Dir(path))
	}
	if i := slices.IndexFunc(folders, complete); i >= 0 {
		return folders[i], nil
	}
	return "", nil
}

// major reads the version out of Debian's folder name, 15 out of /usr/lib/postgresql/15/bin, and 0 out of any other. So
// a folder that is not Debian's sorts behind all that are.
func major(folder string) int {
	version, err := strconv.Atoi(filepath.Base(filepath.Dir(folder)))
	if err != nil {
		return 0
	}
	return version
}

// browser is Chromium, which the browser tests drive. Nothing is downloaded by the tests themselves.
func browser() need {
	return need{
		name:     "Chromium",
		setting:  chromiumSetting,
		packages: []string{"chromium"},
		find:     findBrowser,
	}
}

// findBrowser returns the browser's path: the setting's, else the first of the usual names on PATH. A setting that
// names nothing is an error, as everywhere here.
func findBrowser(_ context.Context, m machine) (string, error) {
	if path := m.env(chromiumSetting); path != "" {
		if !m.has(path) {
			return "", fmt.Errorf("%s is %q, which cannot be run; correct it or unset it", chromiumSetting, path)
		}
		return path, nil
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := m.look(name); err == nil {
			return path, nil
		}
	}
	return "", nil
}

// client is curl, with which the walk of docs/api.md is run as it stands there.
func client() need {
	return need{name: "curl", packages: []string{"curl"}, find: onPath("curl")}
}

// compiler is the C compiler with the C library's headers, without which Go's race detector does not build. The program
// itself is built without one.
func compiler() need {
	return need{
		name:     "a C compiler with the C library's headers",
		setting:  compilerSetting,
		packages: []string{"gcc", "libc6-dev"},
		find:     findCompiler,
	}
}

// findCompiler returns the compiler that Go would call. It tries a header, because Debian's compiler comes without any.
// The setting may hold arguments, "ccache gcc", as it may for Go.
func findCompiler(ctx context.Context, m machine) (string, error) {
	set := m.env(compilerSetting)
	for _, name := range []string{set, "gcc", "clang"} {
		words := strings.Fields(name)
		if len(words) == 0 {
			continue
		}
		probe := append(words, "-E", "-include", "stdlib.h", "-x", "c", "/dev/null")
		if m.has(words[0]) && m.run(ctx, command{args: probe, quiet: true}) == nil {
			return name, nil
		}
		if set != "" {
			return "", fmt.Errorf("%s is %q, which cannot compile; correct it or unset it", compilerSetting, set)
		}
	}
	return "", nil
}
