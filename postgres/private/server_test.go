//go:build linux

package private

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestStartMakesTheDatabaseAndKeepsIt(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(emptyDir(t), "not there yet & 1+1=2 'so' 100%")
	s := begin(t, dir)
	ask(t, s, "CREATE TABLE hook (number bigint)")
	ask(t, s, "INSERT INTO hook VALUES (41)")
	require.NoError(t, s.Stop(t.Context()))
	require.NoError(t, s.Stop(t.Context()), "stopping twice is stopping once")
	assert.Empty(t, backends(s.folder.data()), "nothing is left running")

	again := begin(t, dir)
	assert.Equal(t, s.URL(), again.URL())
	assert.Equal(t, "41", ask(t, again, "SELECT number FROM hook"))
	log, err := os.ReadFile(again.folder.log())
	require.NoError(t, err)
	assert.NotContains(t, string(log), "not properly shut down", "the stop was clean")
}

func TestServerIsSetUpAsPromised(t *testing.T) {
	t.Parallel()
	s := begin(t, filledDir(t))
	for name, want := range map[string]string{
		"listen_addresses": "", "fsync": "on", "synchronous_commit": "on", "full_page_writes": "on",
		"server_encoding": "UTF8", "shared_buffers": "64MB", "max_connections": "100", "unix_socket_permissions": "0700",
	} {
		assert.Equal(t, want, ask(t, s, "SELECT current_setting($1)", name), name)
	}
	assert.Equal(t, "clayline clayline_owner true",
		ask(t, s, "SELECT current_database() || ' ' || usename || ' ' || usesuper FROM pg_user WHERE usename = current_user"))
	for _, dir := range []string{s.folder.run(), s.folder.data()} {
		assert.True(t, s.account.owns(dir), "%s is open to its user alone", dir)
	}
}

func TestServerRunsInItsOwnGroupWithoutTheLock(t *testing.T) {
	t.Parallel()
	s := begin(t, filledDir(t))
	pid := postmaster(s.folder.data())
	group, err := syscall.Getpgid(pid)
	require.NoError(t, err)
	assert.Equal(t, pid, group, "a Ctrl-C at the terminal does not reach it")

	files, err := os.ReadDir(fmt.Sprintf("/proc/%d/fd", pid))
	require.NoError(t, err)
	for _, f := range files {
		target, _ := os.Readlink(fmt.Sprintf("/proc/%d/fd/%s", pid, f.Name()))
		assert.NotEqual(t, s.folder.lock(), target)
	}
	environ, err := os.ReadFile(fmt.Sprintf("/proc/%d/environ", pid))
	require.NoError(t, err)
	assert.NotContains(t, string(environ), "HOME=", "the program's own settings stay with it")
}

func TestSecondProgramOnTheSameFolderIsRefused(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	s := begin(t, dir)
	_, err := Start(t.Context(), options(t, dir))
	require.EqualError(t, err, "another Clayline is using the folder "+dir+"; stop it or choose another folder with --data")
	assert.Equal(t, "1", ask(t, s, "SELECT 1"), "the first is not disturbed")
}

func TestLockIsWaitedFor(t *testing.T) {
	t.Parallel()
	f := folder(emptyDir(t))
	first, err := f.acquire(t.Context())
	require.NoError(t, err)
	got := make(chan error, 1)
	go func() {
		second, err := f.acquire(context.Background())
		if err == nil {
			err = second.Close()
		}
		got <- err
	}()
	require.NoError(t, first.Close())
	require.NoError(t, <-got)
}

func TestKilledDatabaseIsBroughtBack(t *testing.T) {
	t.Parallel()
	s := begin(t, filledDir(t))
	ask(t, s, "CREATE TABLE hook (number bigint)")
	for n := range 3 {
		ask(t, s, "INSERT INTO hook VALUES ($1)", n)
		pid := postmaster(s.folder.data())
		kill(t, pid)
		eventually(t, 10*time.Second, "it answers again", func() bool {
			count, err := exec1(t.Context(), s, "SELECT count(*) FROM hook")
			return err == nil && count == strconv.Itoa(n+1) && postmaster(s.folder.data()) != pid
		})
	}
	select {
	case err := <-s.Failed():
		require.NoError(t, err)
	default:
	}
}

func TestDatabaseThatCannotComeBackIsGivenUp(t *testing.T) {
	t.Parallel()
	opts := options(t, filledDir(t))
	opts.pauses = []time.Duration{0, time.Millisecond, time.Millisecond}
	s, err := Start(t.Context(), opts)
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Stop(context.Background()) })
	control := filepath.Join(s.folder.data(), "global", "pg_control")
	require.NoError(t, os.Rename(control, control+".away"))
	kill(t, postmaster(s.folder.data()))
	select {
	case err = <-s.Failed():
	case <-time.After(20 * time.Second):
		t.Fatal("nobody was told")
	}
	require.ErrorContains(t, err, "the database died and 3 restarts did not help; read "+s.folder.log())
	require.ErrorContains(t, err, "could not open file", "the log is quoted")
	require.NoError(t, s.Stop(t.Context()))
}

func TestStopDuringRestarts(t *testing.T) {
	t.Parallel()
	opts := options(t, filledDir(t))
	opts.pauses = []time.Duration{time.Hour}
	s, err := Start(t.Context(), opts)
	require.NoError(t, err)
	kill(t, s.child.cmd.Process.Pid)
	<-s.child.done
	require.NoError(t, s.Stop(t.Context()))
	assert.Empty(t, s.Failed(), "a stop is no failure")
	begin(t, opts.Dir)
}

// TestKilledProgramLosesNothing kills a program in the middle of its writes, three times over the same data.
func TestKilledProgramLosesNothing(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	data := folder(dir).data()
	for range 3 {
		acknowledged := writeAndKill(t, dir, 150)
		eventually(t, 3*time.Second, "no orphan is left", func() bool {
			return !running(acknowledged.postmaster) && len(backends(data)) == 0
		})
		s := begin(t, dir)
		stored := digits(t, ask(t, s, "SELECT count(*) FROM hook WHERE number BETWEEN 1 AND $1", acknowledged.last))
		assert.Equal(t, acknowledged.last, stored, "every acknowledged row is there")
		ask(t, s, "DROP TABLE hook")
		require.NoError(t, s.Stop(t.Context()))
	}
}

// written is what a writer said before it was killed.
type written struct{ postmaster, last int }

// writeAndKill lets another program write over dir and kills it after rows many acknowledgements.
func writeAndKill(t *testing.T, dir string, rows int) written {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), writerEnv+"="+dir)
	cmd.Stderr = t.Output()
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	defer func() { _ = cmd.Wait() }()
	lines := bufio.NewScanner(out)
	require.True(t, lines.Scan(), "the writer starts")
	w := written{postmaster: digits(t, lines.Text())}
	for lines.Scan() { // To the end: what was said before the kill was acknowledged.
		if w.last = digits(t, lines.Text()); w.last == rows {
			kill(t, cmd.Process.Pid)
		}
	}
	return w
}

// TestStartFromAThreadThatEnds shows that the child outlives the thread which asked for it. The kernel sends the death
// signal when the thread that forked ends, whatever the rest of the program does.
func TestStartFromAThreadThatEnds(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	type result struct {
		s      *Server
		err    error
		thread int
	}
	results := make(chan result)
	go func() {
		runtime.LockOSThread() // Never unlocked: the thread ends with the function.
		s, err := Start(context.Background(), options(t, dir))
		results <- result{s, err, syscall.Gettid()}
	}()
	r := <-results
	require.NoError(t, r.err)
	t.Cleanup(func() { _ = r.s.Stop(context.Background()) })
	pid := postmaster(r.s.folder.data())
	if r.thread != os.Getpid() { // The main thread is parked, not ended.
		eventually(t, 5*time.Second, "the thread ends", func() bool {
			_, err := os.Stat("/proc/self/task/" + strconv.Itoa(r.thread))
			return os.IsNotExist(err)
		})
	}
	assert.Equal(t, "1", ask(t, r.s, "SELECT 1"))
	assert.Equal(t, pid, postmaster(r.s.folder.data()), "it is still the same one")
	assert.True(t, running(pid))
}

func TestStartCalledOffWhileTheClusterIsMade(t *testing.T) {
	t.Parallel()
	dir := emptyDir(t)
	ctx, cancel := context.WithCancel(t.Context())
	failed := make(chan error, 1)
	go func() {
		_, err := Start(ctx, options(t, dir))
		failed <- err
	}()
	eventually(t, 10*time.Second, "initdb is at work", func() bool {
		made, _ := filepath.Glob(filepath.Join(dir, staging+"*", "base"))
		return len(made) == 1
	})
	cancel()
	err := <-failed
	require.ErrorIs(t, err, context.Canceled)
	require.ErrorContains(t, err, "called off")
	assert.NoDirExists(t, folder(dir).data())
	eventually(t, 5*time.Second, "nobody works in the folder", func() bool { return !mentioned(dir) })
	begin(t, dir)
}

func TestStartCalledOffWhileTheDatabaseStarts(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	ctx, cancel := context.WithCancel(t.Context())
	failed := make(chan error, 1)
	go func() {
		s, err := Start(ctx, options(t, dir))
		if err == nil { // It was quicker than the test.
			err = s.Stop(context.Background())
		}
		failed <- err
	}()
	eventually(t, 10*time.Second, "postgres is at work", func() bool { return postmaster(folder(dir).data()) > 0 })
	cancel()
	if err := <-failed; err != nil {
		require.ErrorIs(t, err, context.Canceled)
	}
	assert.False(t, mentioned(dir))
	begin(t, dir)
}

// mentioned reports whether the command line of a running process, this one apart, names dir.
func mentioned(dir string) bool {
	lines, _ := filepath.Glob("/proc/[0-9]*/cmdline")
	for _, path := range lines {
		line, _ := os.ReadFile(path)
		pid, _ := strconv.Atoi(filepath.Base(filepath.Dir(path)))
		if pid != os.Getpid() && strings.Contains(string(line), dir) && running(pid) {
			return true
		}
	}
	return false
}

func TestStopThatMayNotWaitStillStops(t *testing.T) {
	t.Parallel()
	dir := filledDir(t)
	s := begin(t, dir)
	ask(t, s, "CREATE TABLE hook AS SELECT 7 AS number")
	at := s.child.cmd.Process
	require.NoError(t, at.Signal(syscall.SIGSTOP), "it hangs")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	require.ErrorContains(t, s.Stop(ctx), "will recover at the next start")
	eventually(t, 5*time.Second, "it is gone", func() bool { return len(backends(s.folder.data())) == 0 })
	assert.Equal(t, "7", ask(t, begin(t, dir), "SELECT number FROM hook"))
}

func BenchmarkColdStart(b *testing.B) {
	for b.Loop() {
		s, err := Start(b.Context(), Options{Dir: emptyDir(b)})
		b.StopTimer()
		require.NoError(b, err)
		require.NoError(b, s.Stop(b.Context()))
		b.StartTimer()
	}
}

func BenchmarkWarmStart(b *testing.B) {
	dir := filledDir(b)
	for b.Loop() {
		s := begin(b, dir)
		b.StopTimer()
		require.NoError(b, s.Stop(b.Context()))
		b.StartTimer()
	}
}

func BenchmarkStop(b *testing.B) {
	dir := filledDir(b)
	for b.Loop() {
		b.StopTimer()
		s := begin(b, dir)
		b.StartTimer()
		require.NoError(b, s.Stop(b.Context()))
	}
}

func BenchmarkReturnAfterKill(b *testing.B) {
	opts := Options{Dir: filledDir(b)}
	opts.pauses = make([]time.Duration, 1000)
	s, err := Start(b.Context(), opts)
	require.NoError(b, err)
	defer s.Stop(context.Background())
	for b.Loop() {
		pid := postmaster(s.folder.data())
		kill(b, pid)
		poll(b.Context(), time.Minute, func() bool {
			return !running(pid) && s.answer(b.Context(), database, "SELECT 1") == nil
		})
	}
}
