//go:build linux

package private

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// abandon runs a postmaster over dir that nobody looks after, and waits until it has said where it is. Nothing reaps it
// but the returned command's Wait.
func abandon(t *testing.T, dir string) *exec.Cmd {
	t.Helper()
	f := folder(dir)
	b, err := search{pattern: debianFolders, path: os.Getenv("PATH")}.find(t.Context(), "", f)
	require.NoError(t, err)
	cmd := asOwner(t, exec.Command(b.postgres(), "-D", f.data(), "-k", f.data(), "-c", "listen_addresses="), dir)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	eventually(t, 10*time.Second, "it serves", func() bool {
		return ready(f.data(), cmd.Process.Pid) && serves(cmd.Process.Pid, f.data())
	})
	return cmd
}

func TestOrphanIsStopped(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	orphan := abandon(t, dir)
	ended := make(chan error, 1)
	go func() { ended <- orphan.Wait() }()
	s := begin(t, dir)
	require.NoError(t, <-ended, "it ended cleanly")
	assert.Equal(t, "1", ask(t, s, "SELECT 1"))
	assert.NotEqual(t, orphan.Process.Pid, postmaster(s.folder.data()))
}

// TestZombieIsWaitedFor keeps a killed postmaster from being reaped. PostgreSQL takes it for a living one until it is.
func TestZombieIsWaitedFor(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	zombie := abandon(t, dir)
	kill(t, zombie.Process.Pid)
	eventually(t, 5*time.Second, "it is a zombie", func() bool { return !running(zombie.Process.Pid) })
	started := make(chan error, 1)
	go func() {
		s, err := Start(t.Context(), options(t, dir))
		if err == nil {
			err = s.Stop(t.Context())
		}
		started <- err
	}()
	eventually(t, 10*time.Second, "PostgreSQL refuses", func() bool {
		said, _ := os.ReadFile(folder(dir).log())
		return looksBusy(string(said))
	})
	require.Error(t, zombie.Wait(), "it was killed")
	require.NoError(t, <-started)
}

// TestStalePidOfAnotherProgram is the morning after a power failure: the number in postmaster.pid belongs to something
// else now, of the same user, and PostgreSQL alone would refuse for as long as that runs.
func TestStalePidOfAnotherProgram(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	other := asOwner(t, exec.Command("sleep", "600"), dir)
	require.NoError(t, other.Start())
	t.Cleanup(func() { _ = other.Process.Kill(); _ = other.Wait() })
	f := folder(dir)
	stale := fmt.Sprintf("%d\n%s\n1700000000\n5432\n%s\n\n  1234567         1\nready   \n", other.Process.Pid, f.data(), f.run())
	require.NoError(t, os.WriteFile(pidFile(f.data()), []byte(stale), 0o600))
	s := begin(t, dir)
	assert.Equal(t, "1", ask(t, s, "SELECT 1"))
	assert.True(t, running(other.Process.Pid), "it is not ours to stop")
	assert.FileExists(t, pidFile(f.data())+".stale")
}

// TestBackendsThatDoNotNotice are stopped: a backend in a long computation holds the shared memory of its dead
// postmaster.
func TestBackendsThatDoNotNotice(t *testing.T) {
	t.Parallel()
	s := begin(t, filledDir(t))
	busy := make(chan error, 1)
	go func() {
		_, err := exec1(t.Context(), s, "SELECT count(*) FROM generate_series(1, 4000000000)")
		busy <- err
	}()
	eventually(t, 10*time.Second, "it computes", func() bool {
		n, err := exec1(t.Context(), s, "SELECT count(*) FROM pg_stat_activity WHERE state = 'active' AND query LIKE '%generate_series(1, 4%' AND pid <> pg_backend_pid()")
		return err == nil && n == "1"
	})
	pid := postmaster(s.folder.data())
	kill(t, pid)
	require.Error(t, <-busy)
	eventually(t, 8*time.Second, "it answers again", func() bool {
		_, err := exec1(t.Context(), s, "SELECT 1")
		return err == nil && postmaster(s.folder.data()) != pid
	})
}

func TestConcerns(t *testing.T) {
	t.Parallel()
	data := filepath.Join(emptyDir(t), "data")
	require.NoError(t, os.Mkdir(data, 0o755))
	for _, row := range []struct {
		args []string
		want bool
	}{
		{[]string{data}, true},
		{[]string{"-D", data + "/"}, true},
		{[]string{"-D" + data}, true},
		{[]string{"--pgdata=" + data}, true},
		{[]string{"-D", "/elsewhere" + data}, false},
		{[]string{"-D", data + "2"}, false},
		{nil, false},
	} {
		cmd := exec.Command("sh", append([]string{"-c", "read line", "sh"}, row.args...)...)
		in, err := cmd.StdinPipe()
		require.NoError(t, err)
		require.NoError(t, cmd.Start())
		eventually(t, 5*time.Second, "it has its command line", func() bool {
			line, _ := os.ReadFile(fmt.Sprintf("/proc/%d/cmdline", cmd.Process.Pid))
			return strings.HasPrefix(string(line), "sh\x00")
		})
		assert.Equal(t, row.want, concerns(cmd.Process.Pid, data), "%q", row.args)
		assert.False(t, serves(cmd.Process.Pid, data), "it is no PostgreSQL")
		require.NoError(t, in.Close())
		_ = cmd.Wait()
		assert.False(t, running(cmd.Process.Pid))
	}
	assert.False(t, running(0))
}

func TestPostmasterFile(t *testing.T) {
	t.Parallel()
	data := t.TempDir()
	assert.Zero(t, postmaster(data), "there is none")
	for text, want := range map[string]int{"123\n/data\n": 123, "-77\n": 77, "": 0, "nonsense\n": 0} {
		require.NoError(t, os.WriteFile(pidFile(data), []byte(text), 0o600))
		assert.Equal(t, want, postmaster(data), "%q", text)
	}
}
