//go:build linux

package private

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDefaultDir(t *testing.T) {
	if os.Geteuid() == 0 {
		dir, err := DefaultDir()
		require.NoError(t, err)
		assert.Equal(t, "/var/lib/clayline", dir)
		return
	}
	for _, row := range []struct{ state, home, want string }{
		{"/some/state", "/home/ann", "/some/state/clayline"},
		{"", "/home/ann", "/home/ann/.local/state/clayline"},
		{"not/absolute", "/home/ann", "/home/ann/.local/state/clayline"},
	} {
		t.Setenv("XDG_STATE_HOME", row.state)
		t.Setenv("HOME", row.home)
		dir, err := DefaultDir()
		require.NoError(t, err)
		assert.Equal(t, row.want, dir)
	}
}

func TestFolderMustBeNamed(t *testing.T) {
	t.Parallel()
	_, err := Start(t.Context(), Options{})
	require.EqualError(t, err, "no data folder was named; name one with --data")
}

func TestFolderThatIsAFileIsRefused(t *testing.T) {
	t.Parallel()
	path := filepath.Join(emptyDir(t), "file")
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	_, err := Start(t.Context(), options(t, filepath.Join(path, "data")))
	require.ErrorContains(t, err, "the data folder cannot be made; choose another one with --data: ")
}

func TestOtherMajorVersionIsRefusedAndUntouched(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	data := folder(dir).data()
	require.NoError(t, os.WriteFile(filepath.Join(data, "PG_VERSION"), []byte("12\n"), 0o600))
	before := picture(t, data)
	_, err := Start(t.Context(), options(t, dir))
	require.ErrorContains(t, err, "the database in "+data+" was made by PostgreSQL 12, but this is PostgreSQL ")
	require.ErrorContains(t, err, "install that version (apt-get install postgresql-12)")
	assert.Equal(t, before, picture(t, data))
}

func TestStrangersFolderIsRefusedAndUntouched(t *testing.T) {
	t.Parallel()
	dir := emptyDir(t)
	data := folder(dir).data()
	require.NoError(t, os.Mkdir(data, 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(data, "pictures"), []byte("of a tractor"), 0o600))
	before := picture(t, data)
	_, err := Start(t.Context(), options(t, dir))
	require.EqualError(t, err, data+" is there but holds no database, and Clayline does not touch what it did not make; "+
		"move it away or choose another folder with --data")
	assert.Equal(t, before, picture(t, data))
}

// picture describes every file under dir: rights, owner, size, time and content.
func picture(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		uid, _ := ownerOf(path)
		var content []byte
		if info.Mode().IsRegular() {
			if content, err = os.ReadFile(path); err != nil {
				return err
			}
		}
		files[path] = fmt.Sprint(info.Mode(), uid, info.ModTime(), len(content), string(content))
		return nil
	}))
	return files
}

func TestHalfMadeClustersAreRemovedAndNothingElse(t *testing.T) {
	t.Parallel()
	dir := emptyDir(t)
	half := filepath.Join(dir, staging+"123456")
	require.NoError(t, os.MkdirAll(filepath.Join(half, "base", "1"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(half, "PG_VERSION"), []byte("15\n"), 0o600))
	var others []string
	for _, name := range []string{"data.new-", "data.new-old", "data.old-123", "data.new", "backup"} {
		others = append(others, filepath.Join(dir, name))
		require.NoError(t, os.Mkdir(filepath.Join(dir, name), 0o700))
	}
	s := begin(t, dir)
	assert.NoDirExists(t, half)
	for _, path := range others {
		assert.DirExists(t, path)
	}
	assert.Equal(t, "1", ask(t, s, "SELECT 1"))
}

func TestFailedInitdbIsToldAndLeavesNothing(t *testing.T) {
	t.Parallel()
	bin := emptyDir(t)
	script := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(bin, name), []byte("#!/bin/sh\n"+text), 0o755))
	}
	script("postgres", `echo "postgres (PostgreSQL) 15.1"`)
	script("initdb", `echo "$@" >&2; echo "initdb: error: invalid locale name" >&2; exit 1`)
	opts := options(t, emptyDir(t))
	opts.BinDir = bin
	_, err := Start(t.Context(), opts)
	require.ErrorContains(t, err, "initdb could not make the database in "+opts.Dir)
	require.ErrorContains(t, err, "--locale=C\n", "the plain locale was tried too")
	left, globErr := filepath.Glob(filepath.Join(opts.Dir, "data*"))
	require.NoError(t, globErr)
	assert.Empty(t, left)
}

func TestStartErrorQuotesTheLog(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	f := folder(dir)
	conf, err := os.OpenFile(filepath.Join(f.data(), "postgresql.conf"), os.O_APPEND|os.O_WRONLY, 0)
	require.NoError(t, err)
	_, err = conf.WriteString("work_mem = 'a lot'\n")
	require.NoError(t, err)
	require.NoError(t, conf.Close())
	_, err = Start(t.Context(), options(t, dir))
	require.ErrorContains(t, err, "PostgreSQL ended while it was starting (exit status 1); its log "+f.log()+" ends with:")
	require.ErrorContains(t, err, "work_mem")
}

func TestSettingsThatShutClaylineOutAreTold(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	f := folder(dir)
	require.NoError(t, os.WriteFile(filepath.Join(f.data(), "pg_hba.conf"), []byte("local all all reject\n"), 0o600))
	_, err := Start(t.Context(), options(t, dir))
	require.ErrorContains(t, err, "does not let Clayline in; undo the last change to its settings")
	assert.Empty(t, backends(f.data()))
}

func TestLargeLogIsCutToItsEnd(t *testing.T) {
	t.Parallel()
	f := folder(emptyDir(t))
	line := strings.Repeat("x", 1023) + "\n"
	require.NoError(t, os.WriteFile(f.log(), []byte(strings.Repeat(line, logLimit/1024)), 0o600))
	require.NoError(t, f.trimLog())
	info, err := os.Stat(f.log())
	require.NoError(t, err)
	assert.EqualValues(t, logLimit, info.Size(), "not yet too large")

	log, err := f.openLog()
	require.NoError(t, err)
	defer log.Close()
	_, err = log.WriteString("the end\n")
	require.NoError(t, err)
	require.NoError(t, f.trimLog())
	info, err = os.Stat(f.log())
	require.NoError(t, err)
	assert.EqualValues(t, logKept, info.Size())
	assert.True(t, strings.HasSuffix(lastLines(log, 0), "x\nthe end"))
	assert.Empty(t, lastLines(log, info.Size()), "nothing was said since")
}

func TestLinksAreNotFollowed(t *testing.T) {
	t.Parallel()
	f := folder(emptyDir(t))
	target := filepath.Join(string(f), "elsewhere")
	require.NoError(t, os.Symlink(target, f.log()))
	require.NoError(t, os.Symlink(target, f.lock()))
	_, err := f.openLog()
	require.Error(t, err)
	_, err = f.acquire(t.Context())
	require.Error(t, err)
	assert.NoFileExists(t, target)
}

func TestSocketOfALongFolderIsElsewhere(t *testing.T) {
	t.Parallel()
	top := emptyDir(t)
	dir := filepath.Join(top, strings.Repeat("long", 25))
	require.NoError(t, os.Mkdir(dir, 0o711))
	from, err := template()
	require.NoError(t, err)
	require.NoError(t, exec.Command("cp", "-a", filepath.Join(from, "data"), dir).Run())
	s := begin(t, dir)
	assert.Equal(t, "1", ask(t, s, "SELECT 1"))
	assert.NotContains(t, s.socket, top)
	assert.True(t, s.account.owns(s.socket), "it is open to the database's user alone")
	kept, err := s.folder.socketDir(s.account)
	require.NoError(t, err)
	assert.Equal(t, s.socket, kept, "a start after a crash uses the same one")
	require.NoError(t, s.Stop(t.Context()))
	assert.NoDirExists(t, s.socket)
	assert.NoFileExists(t, s.folder.shortcut())
}

func TestSocketFolderOfSomebodyElseIsNotUsed(t *testing.T) {
	t.Parallel()
	f := folder(filepath.Join(emptyDir(t), strings.Repeat("long", 25)))
	require.NoError(t, os.Mkdir(string(f), 0o711))
	a, err := chooseAccount(f)
	require.NoError(t, err)
	require.NoError(t, os.Symlink("/tmp", f.shortcut()))
	dir, err := f.socketDir(a)
	require.NoError(t, err)
	assert.NotEqual(t, "/tmp", dir)
	f.dropSocket(dir)
	assert.NoDirExists(t, dir)
}

func TestWhatFitsASocket(t *testing.T) {
	t.Parallel()
	room := socketRoom - len("/"+socketName)
	assert.True(t, fits("/"+strings.Repeat("x", room-1)))
	assert.False(t, fits("/"+strings.Repeat("x", room)))
	assert.False(t, fits("/pulls, 2026"), "PostgreSQL and its clients end a name at a comma")
}
