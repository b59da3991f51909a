package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// errAbsent is what a made-up machine says of a program it does not have.
var errAbsent = errors.New("not on this machine")

// made is a machine made of programs and settings; it remembers the commands it was given.
type made struct {
	programs map[string]string // name or path → path
	settings map[string]string
	uid      int
	cache    string // the folder for what is fetched
	does     runner // what a command does, nothing by default
	ran      []command
	printed  bytes.Buffer
}

// machine returns it as check sees it.
func (m *made) machine() machine {
	return machine{
		env: func(name string) string { return m.settings[name] },
		look: func(program string) (string, error) {
			if path, ok := m.programs[program]; ok {
				return path, nil
			}
			return "", errAbsent
		},
		glob: m.folders,
		uid:  m.uid,
		cache: func() (string, error) {
			if m.cache == "" {
				return "", errAbsent
			}
			return m.cache, nil
		},
		run: func(ctx context.Context, c command) error {
			m.ran = append(m.ran, c)
			if m.does == nil {
				return nil
			}
			return m.does(ctx, c)
		},
		out: &m.printed,
	}
}

// folders lists the folders of its programs that match the pattern, in the order of their names like [filepath.Glob].
func (m *made) folders(pattern string) ([]string, error) {
	var list []string
	for program := range m.programs {
		folder := filepath.Dir(program)
		if ok, err := filepath.Match(pattern, folder); err != nil {
			return nil, err
		} else if ok && !slices.Contains(list, folder) {
			list = append(list, folder)
		}
	}
	slices.Sort(list)
	return list, nil
}

// typed lists the commands as one would type them, without those that only probe.
func (m *made) typed() []string {
	var list []string
	for _, c := range m.ran {
		if !c.quiet {
			list = append(list, c.String())
		}
	}
	return list
}

// programs makes a machine's programs out of paths: each is found by its path and, when its folder is on PATH, by name.
func programs(paths ...string) map[string]string {
	all := map[string]string{}
	for _, path := range paths {
		all[path] = path
		if filepath.Dir(path) == "/usr/bin" {
			all[filepath.Base(path)] = path
		}
	}
	return all
}

func TestFindDatabase(t *testing.T) {
	for _, c := range []struct {
		name     string
		programs map[string]string
		setting  string
		want     string
		err      string
	}{
		{name: "nothing there"},
		{
			name:     "Debian's folder",
			programs: programs("/usr/lib/postgresql/15/bin/initdb", "/usr/lib/postgresql/15/bin/postgres"),
			want:     "/usr/lib/postgresql/15/bin",
		},
		{
			name: "the newest by number, not by letters",
			programs: programs("/usr/lib/postgresql/9/bin/initdb", "/usr/lib/postgresql/9/bin/postgres",
				"/usr/lib/postgresql/15/bin/initdb", "/usr/lib/postgresql/15/bin/postgres"),
			want: "/usr/lib/postgresql/15/bin",
		},
		{
			name: "a client's folder is passed over",
			programs: programs("/usr/lib/postgresql/17/bin/psql",
				"/usr/lib/postgresql/15/bin/initdb", "/usr/lib/postgresql/15/bin/postgres"),
			want: "/usr/lib/postgresql/15/bin",
		},
		{name: "on PATH", programs: programs("/usr/bin/initdb", "/usr/bin/postgres"), want: "/usr/bin"},
		{name: "on PATH, but half of it", programs: programs("/usr/bin/postgres")},
		{
			name:     "the setting goes before the rest",
			setting:  "/opt/pg",
			programs: programs("/opt/pg/initdb", "/opt/pg/postgres", "/usr/bin/initdb", "/usr/bin/postgres"),
			want:     "/opt/pg",
		},
		{
			name:     "a wrong setting is not passed over",
			setting:  "/opt/pg",
			programs: programs("/usr/bin/initdb", "/usr/bin/postgres"),
			err:      `CLAYLINE_POSTGRES_BIN is "/opt/pg", but initdb and postgres are not both there; correct it or unset it`,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := made{programs: c.programs, settings: map[string]string{postgresSetting: c.setting}}
			got, err := findDatabase(t.Context(), m.machine())
			if c.err != "" {
				require.EqualError(t, err, c.err)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, c.want, got)
		})
	}
}

func TestFindBrowser(t *testing.T) {
	m := made{programs: programs("/usr/bin/google-chrome", "/usr/bin/chromium-browser")}
	got, err := findBrowser(t.Context(), m.machine())
	require.NoError(t, err)
	assert.Equal(t, "/usr/bin/chromium-browser", got, "the names are tried in their order")

	m.settings = map[string]string{chromiumSetting: "/opt/chrome"}
	_, err = findBrowser(t.Context(), m.machine())
	require.EqualError(t, err, `CLAYLINE_CHROMIUM is "/opt/chrome", which cannot be run; correct it or unset it`)

	m.programs["/opt/chrome"] = "/opt/chrome"
	got, err = findBrowser(t.Context(), m.machine())
	require.NoError(t, err)
	assert.Equal(t, "/opt/chrome", got)
}

func TestFindCompiler(t *testing.T) {
	m := made{programs: programs("/usr/bin/gcc", "/usr/bin/clang")}
	got, err := findCompiler(t.Context(), m.machine())
	require.NoError(t, err)
	assert.Equal(t, "gcc", got)
	assert.Equal(t, "gcc -E -include stdlib.h -x c /dev/null", m.ran[0].String())

	m.does = func(_ context.Context, c command) error {
		if c.args[0] == "gcc" {
			return errors.New("no headers")
		}
		return nil
	}
	got, err = findCompiler(t.Context(), m.machine())
	require.NoError(t, err)
	assert.Equal(t, "clang", got, "a compiler without headers does not do")

	m.settings = map[string]string{compilerSetting: "gcc -m64"}
	_, err = findCompiler(t.Context(), m.machine())
	require.EqualError(t, err, `CC is "gcc -m64", which cannot compile; correct it or unset it`)

	m = made{}
	got, err = findCompiler(t.Context(), m.machine())
	require.NoError(t, err)
	assert.Empty(t, got)
}

func TestNeedsOf(t *testing.T) {
	twice := []step{{needs: []need{database(), browser()}}, {needs: []need{database()}}, {}}
	var settings []string
	for _, n := range needsOf(twice) {
		settings = append(settings, n.setting)
	}
	assert.Equal(t, []string{postgresSetting, chromiumSetting}, settings)
}

// everything is what the tests need.
func everything() []need { return []need{database(), browser(), compiler()} }

func TestProvideFindsAll(t *testing.T) {
	m := made{programs: programs("/usr/bin/initdb", "/usr/bin/postgres", "/usr/bin/chromium", "/usr/bin/gcc")}
	env, err := m.machine().provide(t.Context(), everything())
	require.NoError(t, err)
	assert.Equal(t, []string{"CLAYLINE_POSTGRES_BIN=/usr/bin", "CLAYLINE_CHROMIUM=/usr/bin/chromium", "CC=gcc"}, env)
	assert.Empty(t, m.typed(), "nothing is installed")
}

func TestProvideRefuses(t *testing.T) {
	t.Run("an ordinary user gets the line to copy", func(t *testing.T) {
		m := made{programs: programs("/usr/bin/apt-get", "/usr/bin/gcc"), uid: 1000}
		_, err := m.machine().provide(t.Context(), everything())
		require.EqualError(t, err, strings.Join([]string{
			"the tests need what this machine does not have:",
			"  PostgreSQL's server programs (initdb and postgres) (CLAYLINE_POSTGRES_BIN)",
			"  Chromium (CLAYLINE_CHROMIUM)",
			"install it with this line, or set the variable to its place:",
			"",
			"  sudo apt-get update && sudo apt-get install -y --no-install-recommends postgresql chromium",
			"",
		}, "\n"))
		assert.Empty(t, m.typed())
	})
	t.Run("root without apt is told what to look for", func(t *testing.T) {
		m := made{programs: programs("/usr/bin/gcc")}
		_, err := m.machine().provide(t.Context(), everything())
		require.ErrorContains(t, err, "Chromium (CLAYLINE_CHROMIUM)\ninstall it with this machine's package manager")
	})
	t.Run("a wrong setting is not a reason to install", func(t *testing.T) {
		m := made{programs: programs("/usr/bin/apt-get"), settings: map[string]string{chromiumSetting: "/nowhere"}}
		_, err := m.machine().provide(t.Context(), everything())
		require.ErrorContains(t, err, "/nowhere")
		assert.Empty(t, m.typed())
	})
}

func TestProvideInstalls(t *testing.T) {
	m := made{programs: programs("/usr/bin/apt-get", "/usr/bin/gcc")}
	var settings string
	m.does = func(_ context.Context, c command) error {
		if c.args[0] == "apt-get" {
			settings = readClusterSettings(t, c)
		}
		if c.args[0] == "apt-get" && c.args[1] == "install" {
			m.programs = programs("/usr/bin/initdb", "/usr/bin/postgres", "/usr/bin/chromium", "/usr/bin/gcc")
		}
		return nil
	}
	env, err := m.machine().provide(t.Context(), everything())
	require.NoError(t, err)
	assert.Len(t, env, 3)
	assert.Equal(t, []string{"apt-get update -q", "apt-get install -y --no-install-recommends postgresql chromium -q"}, m.typed())
	assert.Equal(t, clusterSettings, settings, "the package is told to start no database")
	assert.Contains(t, m.printed.String(), "postgresql chromium")
}

// readClusterSettings returns what the command's environment tells PostgreSQL's package.
func readClusterSettings(t *testing.T, c command) string {
	t.Helper()
	for _, pair := range c.env {
		if folder, ok := strings.CutPrefix(pair, "PGSYSCONFDIR="); ok {
			text, err := os.ReadFile(filepath.Join(folder, "createcluster.conf"))
			require.NoError(t, err)
			return string(text)
		}
	}
	return ""
}

func TestProvideSaysWhenInstallingDidNotHelp(t *testing.T) {
	m := made{programs: programs("/usr/bin/apt-get", "/usr/bin/gcc")}
	_, err := m.machine().provide(t.Context(), everything())
	require.ErrorContains(t, err, "the installation has run, but this is still missing:\n  PostgreSQL's")
}

func TestProvideTriesTwice(t *testing.T) {
	m := made{programs: programs("/usr/bin/apt-get", "/usr/bin/gcc")}
	m.does = func(_ context.Context, c command) error {
		if c.args[0] == "apt-get" {
			return errors.New("the mirror is away")
		}
		return nil
	}
	_, err := m.machine().provide(t.Context(), everything())
	require.EqualError(t, err, "the installation failed: the mirror is away; install postgresql chromium by hand, then run this again")
	assert.Equal(t, []string{"apt-get update -q", "apt-get update -q"}, m.typed())
}

func TestTwiceStopsWhenInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	m := made{does: func(context.Context, command) error { cancel(); return errors.New("interrupted") }}
	require.EqualError(t, m.machine().twice(ctx, command{args: []string{"apt-get"}}), "interrupted")
	assert.Len(t, m.ran, 1)
}
