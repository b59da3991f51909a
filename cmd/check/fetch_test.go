package main

import (
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// npm acts as npm does in its folder: it writes the files that the check is after, and its own list last.
func npm(t *testing.T) runner {
	t.Helper()
	return func(_ context.Context, c command) error {
		for _, file := range []string{"vnu-jar/build/dist/vnu.jar", "lighthouse/cli/index.js", ".package-lock.json"} {
			path := filepath.Join(c.folder, "node_modules", filepath.FromSlash(file))
			require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o750))
			require.NoError(t, os.WriteFile(path, nil, 0o600))
		}
		return nil
	}
}

func TestWhatNPMHasIsFetchedOnceIntoTheCache(t *testing.T) {
	m := made{programs: programs("/usr/bin/java", "/usr/bin/node", "/usr/bin/npm"), uid: 1000, cache: t.TempDir(), does: npm(t)}
	needs := []need{java(), node(), validator(), auditor()}
	folder := filepath.Join(m.cache, "clayline", "check")
	for range 2 {
		env, err := m.machine().provide(t.Context(), needs)
		require.NoError(t, err, "an ordinary user needs nobody for this")
		assert.Equal(t, []string{
			"CLAYLINE_VALIDATOR=" + filepath.Join(folder, "node_modules/vnu-jar/build/dist/vnu.jar"),
			"CLAYLINE_LIGHTHOUSE=" + filepath.Join(folder, "node_modules/lighthouse/cli/index.js"),
		}, env)
	}
	assert.Equal(t, []string{"npm ci --ignore-scripts --no-audit --no-fund"}, m.typed(), "one fetch brings both, and the second run finds them")
	assert.Equal(t, folder, m.ran[0].folder)

	lock := filepath.Join(folder, "package-lock.json")
	require.NoError(t, os.WriteFile(lock, []byte("{}"), 0o600))
	_, err := m.machine().provide(t.Context(), needs)
	require.NoError(t, err)
	assert.Len(t, m.typed(), 2, "another lock is another fetch")
	written, err := os.ReadFile(lock)
	require.NoError(t, err)
	assert.Equal(t, string(npmLock), string(written))
}

func TestAFetchThatFailsSaysWhatToDo(t *testing.T) {
	m := made{programs: programs("/usr/bin/npm"), cache: t.TempDir(), does: func(context.Context, command) error { return errors.New("no network") }}
	_, err := m.machine().provide(t.Context(), []need{validator()})
	require.EqualError(t, err, "the Nu Html Checker could not be fetched: no network; run this again, or set CLAYLINE_VALIDATOR to its place")
	assert.Len(t, m.typed(), 2, "it is tried twice")

	m.does = func(_ context.Context, c command) error {
		return os.MkdirAll(filepath.Join(c.folder, "node_modules", "vnu-jar"), 0o750)
	}
	_, err = m.machine().provide(t.Context(), []need{validator()})
	require.ErrorContains(t, err, "the installation has run, but this is still missing:\n  the Nu Html Checker (CLAYLINE_VALIDATOR)", "a fetch that was broken off counts for nothing")
}

func TestAValidatorOfOnesOwn(t *testing.T) {
	jar := filepath.Join(t.TempDir(), "vnu.jar")
	m := made{settings: map[string]string{validatorSetting: jar}}
	_, err := m.machine().provide(t.Context(), []need{validator()})
	require.EqualError(t, err, `CLAYLINE_VALIDATOR is "`+jar+`", where there is no such file; correct it or unset it`)
	require.NoError(t, os.WriteFile(jar, nil, 0o600))
	env, err := m.machine().provide(t.Context(), []need{validator()})
	require.NoError(t, err)
	assert.Equal(t, []string{"CLAYLINE_VALIDATOR=" + jar}, env)
	assert.Empty(t, m.ran)
}

// What is missing of both kinds: the packages are refused to an ordinary user before anything is fetched.
func TestPackagesComeBeforeWhatIsFetched(t *testing.T) {
	m := made{programs: programs("/usr/bin/apt-get"), uid: 1000, cache: t.TempDir()}
	_, err := m.machine().provide(t.Context(), []need{java(), node(), validator()})
	require.ErrorContains(t, err, "  Java 17 or newer\n  Node.js 18 or newer with npm\ninstall it with this line")
	require.ErrorContains(t, err, "default-jre-headless nodejs npm\n")
	require.NotContains(t, err.Error(), "Checker")
	assert.Empty(t, m.ran)
}

// The lock says of each package which one it is, by its hash, and not where it comes from.
func TestTheLockPinsWhatIsFetched(t *testing.T) {
	var lock struct {
		Packages map[string]struct{ Version, Integrity, Resolved string }
	}
	require.NoError(t, json.Unmarshal(npmLock, &lock))
	require.Greater(t, len(lock.Packages), 100)
	for name, p := range lock.Packages {
		if name != "" {
			assert.Regexp(t, "^sha512-", p.Integrity, name)
			assert.Empty(t, p.Resolved, name)
		}
	}
	assert.Equal(t, "26.9.27", lock.Packages["node_modules/vnu-jar"].Version)
	assert.Equal(t, "12.8.2", lock.Packages["node_modules/lighthouse"].Version)
}
