//go:build linux

package private

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// install puts a pretended PostgreSQL of one version into dir; names are the programs it has.
func install(t *testing.T, dir, version string, names ...string) string {
	t.Helper()
	require.NoError(t, os.MkdirAll(dir, 0o755))
	for _, name := range names {
		script := fmt.Sprintf("#!/bin/sh\necho 'postgres (PostgreSQL) %s'\n", version)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(script), 0o755))
	}
	return dir
}

func TestFindPrefersTheNewestThatFits(t *testing.T) {
	t.Parallel()
	top := t.TempDir()
	for _, version := range []string{"9", "15", "17"} {
		install(t, filepath.Join(top, version, "bin"), version+".2 (Debian)", "postgres", "initdb")
	}
	install(t, filepath.Join(top, "18", "bin"), "18beta1", "postgres") // only half installed
	where := search{pattern: filepath.Join(top, "*", "bin"), path: install(t, filepath.Join(top, "path"), "16devel", "postgres", "initdb")}
	for _, row := range []struct{ wanted, dir, major string }{
		{"", "17/bin", "17"},
		{"17", "17/bin", "17"},
		{"15", "15/bin", "15"},
		{"16", "path", "16"},
	} {
		got, err := where.find(t.Context(), row.wanted, "/data")
		require.NoError(t, err)
		assert.Equal(t, binaries{filepath.Join(top, row.dir), row.major}, got, "wanted %q", row.wanted)
	}
	_, err := where.find(t.Context(), "18", "/x")
	require.EqualError(t, err, "the database in /x/data was made by PostgreSQL 18, but this is PostgreSQL 17 and 15 and 9 and 16; "+
		"install that version (apt-get install postgresql-18) or move the data over with pg_upgrade, "+
		"or choose another folder with --data; nothing was changed")
}

func TestFindSkipsAFolderOfPathWithoutInitdb(t *testing.T) {
	t.Parallel()
	top := t.TempDir()
	half := install(t, filepath.Join(top, "half"), "15.1", "postgres")
	whole := install(t, filepath.Join(top, "whole"), "15.1", "postgres", "initdb")
	path := half + string(os.PathListSeparator) + "." + string(os.PathListSeparator) + whole
	got, err := search{path: path}.find(t.Context(), "", "/data")
	require.NoError(t, err)
	assert.Equal(t, whole, got.dir)
}

func TestFindTakesTheChosenFolderAlone(t *testing.T) {
	t.Parallel()
	top := t.TempDir()
	chosen := install(t, filepath.Join(top, "chosen"), "14.1", "postgres", "initdb")
	newer := install(t, filepath.Join(top, "17", "bin"), "17.1", "postgres", "initdb")
	got, err := search{chosen: chosen, pattern: newer, path: newer}.find(t.Context(), "", "/data")
	require.NoError(t, err)
	assert.Equal(t, binaries{chosen, "14"}, got)

	_, err = search{chosen: top, pattern: newer, path: newer}.find(t.Context(), "", "/data")
	require.EqualError(t, err, "the folder "+top+" has no postgres and initdb that run; name the folder that has both, "+
		"or none to have them searched for")
}

func TestFindSaysWhatToInstall(t *testing.T) {
	t.Parallel()
	top := t.TempDir()
	broken := install(t, filepath.Join(top, "broken"), "", "postgres", "initdb")
	_, err := search{pattern: top + "/*/bin", path: broken}.find(t.Context(), "", "/data")
	require.EqualError(t, err, "PostgreSQL is not installed on this machine; install it (apt-get install postgresql "+
		"on Debian and Ubuntu), or name the server to use in DATABASE_URL; looked in "+top+"/*/bin and in PATH")
}

func TestStartWithoutBinariesMakesNothing(t *testing.T) {
	t.Parallel()
	opts := options(t, emptyDir(t))
	opts.BinDir = t.TempDir()
	_, err := Start(t.Context(), opts)
	require.ErrorContains(t, err, "has no postgres and initdb that run")
	assert.NoDirExists(t, filepath.Join(opts.Dir, "data"))
}
