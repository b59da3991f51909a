//go:build linux

package private

import (
	"context"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Times that a process over our data gets to end: a fast stop writes a checkpoint, an immediate one nothing.
const (
	fastPatience      = 10 * time.Second
	immediatePatience = 5 * time.Second
)

// evict stops whatever still runs over the cluster in data. The caller holds the folder's lock and has no child,
// so what runs is an orphan: a postmaster whose program is gone, or backends whose postmaster was killed, which
// hold the shared memory until they notice. It then removes the traces that would keep a new postmaster from
// starting.
func evict(ctx context.Context, data, socket string, log *slog.Logger) error {
	pid := postmaster(data)
	if serves(pid, data) {
		log.Warn("stopping a PostgreSQL that was left running over the data", "pid", pid, "data", data)
		if err := dismiss(ctx, pid); err != nil {
			return err
		}
	}
	// Without a postmaster nobody speaks to these any more; SIGQUIT ends them in the midst of what they compute.
	for _, backend := range backends(data) {
		_ = syscall.Kill(backend, syscall.SIGQUIT)
		poll(ctx, immediatePatience, func() bool { return !running(backend) })
	}
	if running(pid) && !isPostgres(pid) && !concerns(pid, data) {
		// The number was given to another program since, after a power failure for instance. PostgreSQL would take that
		// program for a postmaster and refuse for as long as it runs.
		log.Warn("setting aside the stale postmaster.pid of an earlier run", "pid", pid, "data", data)
		if err := os.Rename(pidFile(data), pidFile(data)+".stale"); err != nil {
			return fmt.Errorf("the stale file %s cannot be set aside; rename it by hand: %w", pidFile(data), err)
		}
	}
	// The socket's own lock names a process too and goes stale in the same way.
	_ = os.Remove(filepath.Join(socket, socketName+".lock"))
	_ = os.Remove(filepath.Join(socket, socketName))
	return nil
}

// dismiss stops a postmaster that is not our child: cleanly, or at once when it does not hear. It returns when the
// process is gone or a zombie; who reaps that is not ours to say.
func dismiss(ctx context.Context, pid int) error {
	gone := func() bool { return !running(pid) }
	err := syscall.Kill(pid, syscall.SIGINT)
	if err == nil && poll(ctx, fastPatience, gone) || gone() {
		return nil
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err == nil {
		err = syscall.Kill(pid, syscall.SIGQUIT)
	}
	if err == nil && poll(ctx, immediatePatience, gone) || gone() {
		return nil
	}
	if err != nil {
		return fmt.Errorf("PostgreSQL (process %d) runs over the data folder and this user may not stop it; stop it: %w", pid, err)
	}
	return fmt.Errorf("PostgreSQL (process %d) runs over the data folder and does not stop; stop it by hand", pid)
}

// pidFile is where a postmaster writes its number, and what keeps a second one out.
func pidFile(data string) string { return filepath.Join(data, "postmaster.pid") }

// postmaster returns the process number in postmaster.pid, or 0. One that served a single user is written negative.
func postmaster(data string) int {
	text, err := os.ReadFile(pidFile(data))
	if err != nil {
		return 0
	}
	first, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(strings.TrimSpace(first))
	if err != nil {
		return 0
	}
	return max(pid, -pid)
}

// ready reports whether the postmaster pid has written into postmaster.pid that it takes connections: on line 8,
// for pg_ctl.
func ready(data string, pid int) bool {
	text, err := os.ReadFile(pidFile(data))
	lines := strings.Split(string(text), "\n")
	return err == nil && len(lines) >= 8 && lines[0] == strconv.Itoa(pid) && strings.TrimSpace(lines[7]) == "ready"
}

// serves reports whether pid is a running PostgreSQL over data. Process numbers are used again, so the number
// alone says nothing.
func serves(pid int, data string) bool { return running(pid) && isPostgres(pid) && concerns(pid, data) }

// concerns reports whether the command line of pid names data, or pid works there. The first is open to all; the second
// shows a folder that was named in another way.
func concerns(pid int, data string) bool {
	line, _ := os.ReadFile(fmt.Sprintf("/proc/%d/cmdline", pid))
	return worksIn(pid, data) || slices.ContainsFunc(strings.Split(string(line), "\x00"), func(arg string) bool {
		arg = strings.TrimPrefix(arg, "-D")
		if name, value, ok := strings.Cut(arg, "="); ok && strings.HasPrefix(name, "--") {
			arg = value
		}
		return arg != "" && filepath.Clean(arg) == data
	})
}

// backends lists the running PostgreSQL processes that work in data. Where the kernel does not let this program look,
// at another user's processes, there are none that it could stop.
func backends(data string) []int {
	entries, err := os.ReadDir("/proc")
	if err != nil {
		return nil
	}
	var pids []int
	for _, e := range entries {
		pid, err := strconv.Atoi(e.Name())
		if err == nil && isPostgres(pid) && worksIn(pid, data) && running(pid) {
			pids = append(pids, pid)
		}
	}
	return pids
}

// isPostgres reports whether the program of pid is called postgres.
func isPostgres(pid int) bool {
	name, err := os.ReadFile(fmt.Sprintf("/proc/%d/comm", pid))
	return err == nil && slices.Contains([]string{"postgres", "postmaster"}, strings.TrimSpace(string(name)))
}

// worksIn reports whether pid's working folder is dir; every process of a cluster works in its data folder. The folders
// are compared, not their names, which differ where links or mounts are about.
func worksIn(pid int, dir string) bool {
	theirs, err := os.Stat(fmt.Sprintf("/proc/%d/cwd", pid))
	if err != nil {
		return false
	}
	ours, err := os.Stat(dir)
	return err == nil && os.SameFile(theirs, ours)
}
