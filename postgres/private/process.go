//go:build linux

package private

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"syscall"
	"time"
)

// process is a running child. When done is closed the child has ended and err says how.
type process struct {
	cmd  *exec.Cmd
	done chan struct{}
	err  error
}

// launch starts cmd on a thread that lives as long as the child. The kernel ties the death signal to the thread that
// forked, not to the program: were that thread to end, the child would be stopped in the middle of its work.
func launch(cmd *exec.Cmd) (*process, error) {
	p := &process{cmd: cmd, done: make(chan struct{})}
	started := make(chan error)
	go func() {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		err := cmd.Start()
		started <- err
		if err == nil {
			p.err = cmd.Wait()
			close(p.done)
		}
	}()
	if err := <-started; err != nil {
		return nil, err // The thread is free again: there is no child to tie to it.
	}
	return p, nil
}

// runLocked runs a short-lived child to its end and returns what it said. When the command's context ends, its whole
// process group is killed, so that a child of the child is not left behind.
func runLocked(cmd *exec.Cmd) (string, error) {
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	cmd.Env = environment()
	cmd.WaitDelay = time.Second // What keeps the output open after that is not waited for.
	cmd.Cancel = func() error { return syscall.Kill(-cmd.Process.Pid, syscall.SIGKILL) }
	p, err := launch(cmd)
	if err != nil {
		return "", err
	}
	<-p.done
	return said.String(), p.err
}

// alive reports whether the child still runs.
func (p *process) alive() bool {
	select {
	case <-p.done:
		return false
	default:
		return true
	}
}

// halt asks a postmaster for its clean fast stop and waits for it until ctx ends; then it is stopped at once, which
// loses nothing either but leaves the next start a recovery. A child that has already ended is no error.
func (p *process) halt(ctx context.Context) error {
	if !p.alive() {
		return nil
	}
	_ = p.cmd.Process.Signal(syscall.SIGINT)
	select {
	case <-p.done:
		if p.err != nil {
			return fmt.Errorf("the database did not close cleanly and will recover at the next start; read its log: %w", p.err)
		}
		return nil
	case <-ctx.Done():
	}
	_ = p.cmd.Process.Signal(syscall.SIGQUIT)
	select {
	case <-p.done:
	case <-time.After(immediatePatience): // It hangs, or is held by a debugger.
		_ = p.cmd.Process.Kill()
		<-p.done
	}
	return fmt.Errorf("the database was stopped before it had closed and will recover at the next start; "+
		"allow it more time: %w", ctx.Err())
}

// environment is what children get to see of this program's: enough to run, no secrets, and nothing that changes how
// PostgreSQL starts (PGPORT, PGDATA) or the language of its log.
func environment() []string {
	env := []string{"LC_ALL=C"}
	for _, name := range []string{"PATH", "TZ", "LD_LIBRARY_PATH", "LD_PRELOAD"} {
		if value, ok := os.LookupEnv(name); ok {
			env = append(env, name+"="+value)
		}
	}
	return env
}

// running reports whether pid is at work: a zombie, which still takes signals, is not.
func running(pid int) bool {
	stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return false
	}
	// The name in parentheses may hold anything; the state follows the last parenthesis.
	_, state, _ := strings.Cut(string(stat[bytes.LastIndexByte(stat, ')')+1:]), " ")
	return state != "" && state[0] != 'Z' && state[0] != 'X'
}
