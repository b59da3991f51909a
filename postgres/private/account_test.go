//go:build linux

package private

import (
	"fmt"
	"os"
	"os/user"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestServerRunsAsTheRightUser(t *testing.T) {
	t.Parallel()
	s := begin(t, filledDir(t))
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", postmaster(s.folder.data())))
	require.NoError(t, err)
	for _, line := range strings.Split(string(status), "\n") {
		if ids, ok := strings.CutPrefix(line, "Uid:"); ok {
			uid := fmt.Sprint(s.account.uid)
			assert.Equal(t, []string{uid, uid, uid, uid}, strings.Fields(ids))
		}
	}
	assert.NotZero(t, s.account.uid)
	if os.Geteuid() != 0 {
		assert.EqualValues(t, os.Geteuid(), s.account.uid)
	}
}

func TestRootBecomesTheOwner(t *testing.T) {
	t.Parallel()
	needRoot(t)
	nobody, err := user.Lookup("nobody")
	require.NoError(t, err)
	a, err := newAccount(nobody)
	require.NoError(t, err)
	dir := emptyDir(t)
	require.NoError(t, os.Chown(dir, int(a.uid), int(a.gid)))
	s := begin(t, dir)
	assert.Equal(t, "nobody", s.account.name, "the owner of the folder")
	require.NoError(t, s.Stop(t.Context()))

	require.NoError(t, os.Chown(dir, 0, 0))
	s = begin(t, dir)
	assert.Equal(t, "nobody", s.account.name, "the owner of the data, though the folder is root's now")
}

func TestRootRefusesDataOfAUserWithoutAName(t *testing.T) {
	t.Parallel()
	needRoot(t)
	dir := emptyDir(t)
	const stranger = 3_999_999_999
	require.NoError(t, os.Chown(dir, stranger, stranger))
	a, err := chooseAccount(folder(dir))
	require.NoError(t, err)
	assert.Contains(t, []string{"postgres", "nobody"}, a.name, "a folder is no reason to refuse")

	data := folder(dir).data()
	require.NoError(t, os.Mkdir(data, 0o700))
	require.NoError(t, os.Chown(data, stranger, stranger))
	_, err = chooseAccount(folder(dir))
	require.ErrorContains(t, err, "the database in "+data+" belongs to the user number 3999999999, who has no name")
	require.ErrorContains(t, err, "chown -R postgres "+data+"): ")
}

func TestFolderOutOfReachIsToldBeforeInitdb(t *testing.T) {
	t.Parallel()
	needRoot(t)
	closed := filepath.Join(emptyDir(t), "closed")
	dir := filepath.Join(closed, "inside", "clayline")
	require.NoError(t, os.MkdirAll(dir, 0o755))
	require.NoError(t, os.Chmod(closed, 0o700))
	_, err := Start(t.Context(), options(t, dir))
	a, accountErr := chooseAccount(folder(dir))
	require.NoError(t, accountErr)
	require.EqualError(t, err, "PostgreSQL runs as the user "+a.name+", who may not pass through the folder "+closed+
		" (drwx------ of root); choose another folder with --data, or let that user pass (chmod o+x "+closed+")")
	left, err := filepath.Glob(filepath.Join(dir, "data*"))
	require.NoError(t, err)
	assert.Empty(t, left)

	require.NoError(t, os.Chmod(closed, 0o711))
	begin(t, dir)
}

func TestDataOfRootIsTold(t *testing.T) {
	t.Parallel()
	needRoot(t)
	dir := filledDir(t)
	data := folder(dir).data()
	require.NoError(t, os.Chown(data, 0, 0))
	_, err := Start(t.Context(), options(t, dir))
	require.ErrorContains(t, err, "who may not pass through the folder "+data+" (drwx------ of root)")
}

func TestProgramsOutOfReachAreTold(t *testing.T) {
	t.Parallel()
	needRoot(t)
	bin := install(t, filepath.Join(emptyDir(t), "bin"), "15.1", "postgres", "initdb")
	require.NoError(t, os.Chmod(bin, 0o700))
	opts := options(t, emptyDir(t))
	opts.BinDir = bin
	_, err := Start(t.Context(), opts)
	require.ErrorContains(t, err, "who may not pass through the folder "+bin+
		" (drwx------ of root); use a PostgreSQL that is installed elsewhere, or let that user pass")
}

func TestNewFolderOfRootIsOpenWhateverTheUmask(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(emptyDir(t), "new")
	_, err := openFolder(dir)
	require.NoError(t, err)
	info, err := os.Stat(dir)
	require.NoError(t, err)
	want := os.FileMode(0o700)
	if os.Geteuid() == 0 {
		want = 0o711
	}
	assert.Equal(t, want, info.Mode().Perm())
}

func TestOrdinaryUserIsToldWhoseDataItIs(t *testing.T) {
	t.Parallel()
	if os.Geteuid() == 0 {
		t.Skip("root may read everything")
	}
	dir := filledDir(t)
	data := folder(dir).data()
	require.NoError(t, os.Chmod(data, 0))
	t.Cleanup(func() { _ = os.Chmod(data, 0o700) })
	_, err := Start(t.Context(), options(t, dir))
	require.ErrorContains(t, err, "the database in "+data+" cannot be read; start Clayline as the user who owns it or as root")

	dir = emptyDir(t)
	require.NoError(t, os.Chmod(dir, 0o500))
	t.Cleanup(func() { _ = os.Chmod(dir, 0o700) })
	_, err = Start(t.Context(), options(t, dir))
	require.ErrorContains(t, err, "this user may not use the data folder "+dir)
	_, err = Start(t.Context(), options(t, filepath.Join(dir, "new")))
	require.ErrorContains(t, err, "the data folder cannot be made; choose another one with --data: ")
}

func TestClaimLeavesFilesAlone(t *testing.T) {
	t.Parallel()
	f := folder(emptyDir(t))
	a, err := chooseAccount(f)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(f.run(), nil, 0o644))
	require.ErrorContains(t, a.claim(f.run()), "is not a folder; move it away")
	require.NoError(t, os.Remove(f.run()))
	require.NoError(t, os.Mkdir(f.run(), 0o755))
	require.NoError(t, a.claim(f.run()))
	assert.True(t, a.owns(f.run()), "rights that were too wide are narrowed")
}
