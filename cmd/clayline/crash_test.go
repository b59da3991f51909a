package main

import (
	"bufio"
	"context"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/postgres"
)

// program is the program as a process of its own, on a data folder of its own.
type program struct {
	t       testing.TB
	dir     string
	command *exec.Cmd
	ended   chan struct{} // closed when the process is gone
	address string
	link    string // the entry link of the desk, while it prints one
}

// newProgram makes the data folder; root's database user must be able to reach it.
func newProgram(t testing.TB) *program {
	t.Helper()
	dir, err := os.MkdirTemp("", "clayline-program-")
	require.NoError(t, err)
	require.NoError(t, os.Chmod(dir, 0o755)) // #nosec G302 -- to be reached by the database's user
	p := &program{t: t, dir: dir}
	t.Cleanup(func() {
		if p.command != nil {
			p.interrupt()
		}
		_ = os.RemoveAll(dir)
	})
	return p
}

var (
	serving = regexp.MustCompile(`^Clayline serves (\S+)`)
	entry   = regexp.MustCompile(`^\s+(http\S+/enter/\S+)`)
	first   = regexp.MustCompile(`^Event\s+(\S+)/e/`)
)

// start starts a command of the program and waits until it says where it serves.
func (p *program) start(command string) {
	p.t.Helper()
	p.command = exec.Command(os.Args[0], command, "--addr", "127.0.0.1:0", "--data", filepath.Join(p.dir, "data")) // #nosec G204 -- this test itself
	p.command.Env = append(os.Environ(), asProgram+"=1", "DATABASE_URL=")
	p.command.Stderr = os.Stderr
	out, err := p.command.StdoutPipe()
	require.NoError(p.t, err)
	require.NoError(p.t, p.command.Start())
	lines := bufio.NewScanner(out)
	p.address, p.link = "", ""
	for lines.Scan() {
		if m := serving.FindStringSubmatch(lines.Text()); m != nil {
			p.address = m[1]
		}
		if m := first.FindStringSubmatch(lines.Text()); m != nil {
			p.address = m[1]
		}
		if m := entry.FindStringSubmatch(lines.Text()); m != nil {
			p.link = m[1]
		}
		if strings.HasPrefix(lines.Text(), "Press Ctrl-C") {
			break
		}
	}
	require.NotEmpty(p.t, p.address, "the program says where it serves")
	require.Eventually(p.t, p.answers, deadline, poll)
	process, ended := p.command, make(chan struct{})
	p.ended = ended
	go func() {
		defer close(ended)
		for lines.Scan() { // keeps the pipe open and empty
			continue
		}
		_ = process.Wait()
	}()
}

// answers reports whether the program answers, which it does right after it said where.
func (p *program) answers() bool {
	answer, err := http.Get(p.address + "/") // #nosec G107 -- this machine
	if err != nil {
		return false
	}
	_ = answer.Body.Close()
	return answer.StatusCode == http.StatusOK
}

// interrupt presses Ctrl-C and returns how long the program took to end.
func (p *program) interrupt() time.Duration {
	began := time.Now()
	_ = p.command.Process.Signal(os.Interrupt)
	<-p.ended
	return time.Since(began)
}

// left lists the processes that still work on the data folder.
func (p *program) left() []string {
	var left []string
	files, err := filepath.Glob("/proc/[0-9]*/cmdline")
	require.NoError(p.t, err)
	for _, f := range files {
		if line, err := os.ReadFile(f); err == nil && strings.Contains(string(line), p.dir) { // #nosec G304 -- the system's own
			left = append(left, strings.ReplaceAll(string(line), "\x00", " "))
		}
	}
	return left
}

// postmaster returns the process id of the private database.
func (p *program) postmaster() int {
	p.t.Helper()
	file, err := os.ReadFile(filepath.Join(p.dir, "data", "data", "postmaster.pid"))
	require.NoError(p.t, err)
	line, _, _ := strings.Cut(string(file), "\n")
	pid, err := strconv.Atoi(line)
	require.NoError(p.t, err)
	return pid
}

// store connects to the private database beside the program, as another server process would.
func (p *program) store() *postgres.Store {
	p.t.Helper()
	address := url.URL{Scheme: "postgres", User: url.User("clayline_owner"), Path: "/clayline",
		RawQuery: url.Values{"host": {filepath.Join(p.dir, "data", "run")}, "port": {"5432"}}.Encode()}
	var store *postgres.Store
	require.Eventually(p.t, func() (open bool) {
		var err error
		store, err = postgres.Open(p.t.Context(), address.String())
		return err == nil
	}, deadline, poll, "the database comes back")
	return store
}

func TestDemoStartsAgainAndLeavesNothing(t *testing.T) {
	t.Parallel()
	p := newProgram(t)
	p.start("demo")
	require.NotEmpty(t, p.left())
	store := p.store()
	one, err := desk.New(store, clock, rand.Reader).EventPage(t.Context(), inventedSlug)
	require.NoError(t, err)
	store.Close()
	require.Less(t, p.interrupt(), 3*time.Second)
	require.Equal(t, 0, p.command.ProcessState.ExitCode())
	require.Empty(t, p.left(), "nothing is left running")

	p.start("demo")
	store = p.store()
	defer store.Close()
	two, err := desk.New(store, clock, rand.Reader).EventPage(t.Context(), inventedSlug)
	require.NoError(t, err)
	require.Equal(t, one.Classes, two.Classes, "the second start finds its data")
}

// Twenty hooks are stored through the booth while the program, or its database, is killed in the middle of one. What
// was acknowledged is there, once; what was not is sent again with the same id and is there once as well.
func TestKilledInTheMiddleOfTwentyHooks(t *testing.T) {
	t.Parallel()
	for _, victim := range []string{"program", "database"} {
		t.Run(victim, func(t *testing.T) {
			t.Parallel()
			p := newProgram(t)
			p.start("serve")
			b := newCrashBooth(p)
			for i := range crashHooks {
				kill, command := func() {}, b.command
				if i%5 == 3 {
					after := time.Duration(i) * 100 * time.Microsecond
					kill = func() { b.kill(victim, command, after) }
				}
				b.hook(i, kill)
				// A hook may be acknowledged before the kill arrives. Nobody has missed the program then, to start it again.
				if i%5 == 3 && victim == "program" && b.command == command {
					<-b.ended
					b.start("serve")
				}
			}
			b.verify()
		})
	}
}

const crashHooks = 20

// crashBooth stores hooks in a class of twenty over HTTP.
type crashBooth struct {
	*program
	client *http.Client
	ref    desk.Ref
	acked  map[uuid.UUID]string // hook to distance
}

// newCrashBooth enters with the printed link, and plans the class beside the program.
func newCrashBooth(p *program) *crashBooth {
	p.t.Helper()
	jar, err := cookiejar.New(nil)
	require.NoError(p.t, err)
	b := &crashBooth{program: p, acked: map[uuid.UUID]string{}, client: &http.Client{
		Jar: jar, Timeout: 5 * time.Second, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse },
	}}
	require.NotEmpty(p.t, p.link, "a fresh server prints an entry link for the desk")
	answer, err := b.client.PostForm(p.link, url.Values{"action": {uuid.NewString()}, "device": {"crash test"}})
	require.NoError(p.t, err)
	require.NoError(p.t, answer.Body.Close())
	require.Equal(p.t, http.StatusSeeOther, answer.StatusCode)

	store := p.store()
	defer store.Close()
	l := &loader{desk: desk.New(store, clock, rand.Reader), now: clock()}
	require.NoError(p.t, l.plan(p.t.Context(), clock()))
	plan := invented{name: "Twenty", rules: "floating-ft", seed: "dice 6", settings: []string{"21600 lb, 12 slabs, gear 3, hole 2, trip 198"}}
	for i := range crashHooks {
		plan.entries = append(plan.entries, fmt.Sprintf("%d|Puller %d||", i+1, i+1))
	}
	plan.steps = []string{"DQ jerking", "keep"} // the test hook is over: no choice stops the twenty
	plan.entries = append(plan.entries, "99|Nobody||")
	class, err := l.enter(p.t.Context(), plan)
	require.NoError(p.t, err)
	require.NoError(p.t, class.play(p.t.Context()))
	b.ref = desk.Ref{Event: inventedSlug, Class: "twenty"}
	return b
}

// class reads the class beside the program.
func (b *crashBooth) class() domain.Class {
	b.t.Helper()
	store := b.store()
	defer store.Close()
	page, err := desk.New(store, clock, rand.Reader).ClassPage(b.t.Context(), b.ref)
	require.NoError(b.t, err)
	return page.Class
}

// hook stores one hook, again and again with the same ids until it is acknowledged.
func (b *crashBooth) hook(i int, kill func()) {
	b.t.Helper()
	class := b.class()
	hook := class.OnTrack().ID
	distance := fmt.Sprintf("%d.%02d", 250+i, i)
	form := url.Values{"action": {uuid.NewString()}, "hook": {hook.String()}, "next": {uuid.NewString()}, "result": {distance}}
	var killing sync.WaitGroup
	killing.Go(kill)
	defer killing.Wait()
	ended := time.Now().Add(20 * time.Second)
	for time.Now().Before(ended) {
		answer, err := b.client.PostForm(b.address+"/e/"+b.ref.Event+"/"+b.ref.Class+"/booth/result", form)
		if err == nil {
			_ = answer.Body.Close()
			if answer.StatusCode == http.StatusSeeOther {
				b.acked[hook] = distance
				return
			}
		}
		select {
		case <-b.ended:
			b.start("serve")
		case <-time.After(poll):
		}
	}
	b.t.Fatalf("hook %d was never acknowledged", i)
}

// kill kills the victim a moment later, when the hook is on its way.
func (b *crashBooth) kill(victim string, command *exec.Cmd, after time.Duration) {
	time.Sleep(after)
	if victim == "database" {
		_ = syscall.Kill(b.postmaster(), syscall.SIGKILL)
		return
	}
	_ = command.Process.Kill()
}

// verify compares what was acknowledged with what is stored, and the stored class with the replay of the journal.
func (b *crashBooth) verify() {
	b.t.Helper()
	class := b.class()
	stored := map[uuid.UUID]string{}
	for _, h := range class.Rounds[0].Hooks {
		if h.Result.Outcome == domain.Measured {
			stored[h.ID] = h.Result.Distance.Figures()
		}
	}
	require.Equal(b.t, b.acked, stored, "every acknowledged hook is stored, once")
	require.Len(b.t, stored, crashHooks)
	store := b.store()
	defer store.Close()
	var replayed domain.Class
	err := store.InTx(context.Background(), desk.Snapshot, func(tx desk.Tx) error {
		lines, err := tx.Journal(context.Background(), class.Event, uuid.Nil, 1000)
		if err != nil {
			return err
		}
		for i := range lines {
			l := lines[len(lines)-1-i]
			require.Equal(b.t, int64(i+1), l.Number, "numbers have no gap")
			if l.Subject != class.ID {
				continue
			}
			action, err := doc.DecodeAction(l.Kind, l.Payload)
			require.NoError(b.t, err)
			replayed, err = domain.Decide(replayed, action, l.At)
			require.NoError(b.t, err)
		}
		return nil
	})
	require.NoError(b.t, err)
	require.Equal(b.t, class.Rounds, replayed.Rounds, "the replay of the journal is what is stored")
}

// A stream stays with its reader while the database under it is killed and comes back: nothing missed, nothing twice.
func TestAStreamOutlivesItsDatabase(t *testing.T) {
	t.Parallel()
	p := newProgram(t)
	p.start("demo")
	request, err := http.NewRequestWithContext(t.Context(), http.MethodGet, p.address+"/api/v1/events/"+inventedSlug+"/stream?after=0", http.NoBody)
	require.NoError(t, err)
	answer, err := http.DefaultClient.Do(request)
	require.NoError(t, err)
	defer func() { _ = answer.Body.Close() }()
	told := make(chan int64, 1000)
	go func() {
		for lines := bufio.NewScanner(answer.Body); lines.Scan(); {
			var change struct{ Number int64 }
			data, there := strings.CutPrefix(lines.Text(), "data: ")
			if there && assert.NoError(t, json.Unmarshal([]byte(data), &change)) {
				told <- change.Number
			}
		}
	}()
	ref := desk.Ref{Event: inventedSlug, Class: "36-t-visiting-tractors"}
	next := int64(0)
	for i := range 3 {
		require.NoError(t, syscall.Kill(p.postmaster(), syscall.SIGKILL))
		store := p.store()
		d := desk.New(store, clock, rand.Reader)
		receipt, err := d.Act(t.Context(), desk.Program(), ref, uuid.New(), domain.AddEntry{Entry: uuid.New(), Number: strconv.Itoa(900 + i), Details: domain.Details{Puller: "Ines Tolliver"}})
		require.NoError(t, err)
		lines, err := d.Journal(t.Context(), desk.Program(), inventedSlug, next, 1000)
		require.NoError(t, err)
		store.Close()
		for _, l := range lines {
			if l.Kind == "pass" {
				continue // not told
			}
			select {
			case number := <-told:
				require.Equal(t, l.Number, number, "the next line, once")
			case <-time.After(2 * deadline):
				require.Fail(t, "the line does not arrive", "%d", l.Number)
			}
		}
		next = receipt.Number
	}
}
