package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"os/exec"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
)

// streamCommand measures telling: a distance is stored while phones wait with the page of its class open. With the defaults
// it takes about a minute.
type streamCommand struct {
	Rounds int `default:"9" help:"Alternating rounds."`
	Phones int `default:"1000" help:"Phones that wait."`
}

// missing is how long a change may take to the last phone before it is taken to have missed it.
const missing = 20 * time.Second

// Run tells changes to phones that read the stream of the class, against a process that writes the same bytes to as many bare
// connections. Each side counts from the moment that the change itself names: the peer takes it right before it writes, and
// ours when the booth's form has come, so that ours has deciding and the durable commit in it.
func (c streamCommand) Run(ctx context.Context) error {
	h, err := open(ctx)
	if err != nil {
		return err
	}
	defer h.shut()
	hook := uuid.New()
	class, err := h.class(ctx, "Told", c.Rounds+1, hook)
	if err != nil {
		return err
	}
	teller, err := h.teller(ctx)
	if err != nil {
		return err
	}
	mine, err := c.crowd(ctx, strings.TrimPrefix(h.address, "http://"), "GET "+class+"/stream HTTP/1.1\r\nHost: load\r\n\r\n", h.pid)
	if err != nil {
		return err
	}
	defer mine.leave()
	theirs, err := c.crowd(ctx, teller.address, "\n", teller.pid)
	if err != nil {
		return err
	}
	defer theirs.leave()
	var lasts, middles []float64
	for i := range c.Rounds {
		next := uuid.New()
		if err := h.record(ctx, http.DefaultClient, class, hook, next, fmt.Sprintf("%d.25", 40+i)); err != nil {
			return err
		}
		ours, err := mine.heard()
		if err != nil {
			return err
		}
		if _, err := fmt.Fprintln(teller.tell); err != nil {
			return err
		}
		peers, err := theirs.heard()
		if err != nil {
			return err
		}
		lasts = append(lasts, float64(ours[len(ours)-1])/float64(peers[len(peers)-1]))
		middles = append(middles, float64(ours[len(ours)/2])/float64(peers[len(peers)/2]))
		hook = next
	}
	fmt.Printf("%d phones, %d changes, none missed\n", c.Phones, c.Rounds)
	fmt.Printf("stored to the last phone / bare connections      %s, to the middle one %s\n", spread(lasts), spread(middles))
	fmt.Printf("memory of a waiting phone / bare connections     %.1f kB / %.1f kB\n", mine.each, theirs.each)
	return ctx.Err()
}

// crowd are phones that wait. Each tells when it has heard of a change: how long after the moment that the change names.
type crowd struct {
	phones []net.Conn
	told   chan time.Duration
	failed chan error
	each   float64 // kB of the server's memory that a phone takes
}

// crowd lets the phones in, one after the other, and measures by how much the memory of the process grew.
func (c streamCommand) crowd(ctx context.Context, address, hello string, pid int) (*crowd, error) {
	waiting := &crowd{told: make(chan time.Duration, c.Phones), failed: make(chan error, c.Phones)}
	before, err := resident(pid)
	if err != nil {
		return nil, err
	}
	ready := make(chan struct{}, c.Phones)
	for range c.Phones {
		phone, err := (&net.Dialer{}).DialContext(ctx, "tcp", address)
		if err != nil {
			waiting.leave()
			return nil, err
		}
		waiting.phones = append(waiting.phones, phone)
		if _, err := phone.Write([]byte(hello)); err != nil {
			waiting.leave()
			return nil, err
		}
		go waiting.read(phone, ready)
		select {
		case <-ready:
		case err := <-waiting.failed:
			waiting.leave()
			return nil, err
		}
	}
	after, err := resident(pid)
	waiting.each = float64(after-before) / float64(c.Phones)
	return waiting, err
}

// leave ends the connections.
func (w *crowd) leave() {
	for _, phone := range w.phones {
		_ = phone.Close()
	}
}

// read reads what a phone is told, line by line as RFC 9112 and server-sent events both have them; lines that are no data are
// passed over. The first line with an id says that the stream has begun.
func (w *crowd) read(phone net.Conn, ready chan<- struct{}) {
	lines, begun := bufio.NewScanner(phone), false
	for lines.Scan() {
		if !begun && strings.HasPrefix(lines.Text(), "id: ") {
			begun = true
			ready <- struct{}{}
		}
		if data, is := strings.CutPrefix(lines.Text(), "data: "); is {
			var change struct{ At time.Time }
			if err := json.Unmarshal([]byte(data), &change); err != nil {
				w.failed <- err
				return
			}
			w.told <- clock().Sub(change.At)
		}
	}
	w.failed <- errors.Join(errors.New("a stream has ended"), lines.Err())
}

// heard waits until every phone has heard of a change, and returns how long each took, the quickest first.
func (w *crowd) heard() ([]time.Duration, error) {
	times, late := make([]time.Duration, 0, len(w.phones)), time.After(missing)
	for len(times) < len(w.phones) {
		select {
		case took := <-w.told:
			times = append(times, took)
		case err := <-w.failed:
			return nil, err
		case <-late:
			return nil, fmt.Errorf("%d of %d phones missed a change", len(w.phones)-len(times), len(w.phones))
		}
	}
	slices.Sort(times)
	return times, nil
}

// resident is the memory that a process holds, in kB.
func resident(pid int) (kB int64, err error) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0, err
	}
	_, held, _ := strings.Cut(string(text), "VmRSS:")
	_, err = fmt.Sscan(held, &kB)
	return kB, err
}

// told is a peer that runs.
type told struct {
	address string
	pid     int
	tell    *os.File
}

// teller starts the peer as a process of its own, as the program is one.
func (h *house) teller(ctx context.Context) (t told, err error) {
	self, err := os.Executable()
	if err != nil {
		return t, err
	}
	in, tell, err := os.Pipe()
	if err != nil {
		return t, err
	}
	peer := exec.CommandContext(context.WithoutCancel(ctx), self, "teller") // #nosec G204 -- this program
	peer.Stderr, peer.Stdin = os.Stderr, in
	out, err := peer.StdoutPipe()
	if err != nil {
		return t, err
	}
	if err := peer.Start(); err != nil {
		return t, err
	}
	h.close = append(h.close, func() {
		_ = tell.Close()
		_ = peer.Wait()
		_ = in.Close()
	})
	_, err = fmt.Fscan(out, &t.address)
	t.pid, t.tell = peer.Process.Pid, tell
	return t, err
}

// tellerCommand is the peer: it holds bare connections with one goroutine and one channel each, and writes a change to all of
// them for every line on standard input, with the bytes that the program would send. It ends with its input.
type tellerCommand struct{}

// Run serves on a free port, which it prints.
func (tellerCommand) Run(ctx context.Context) error {
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	defer func() { _ = listener.Close() }()
	joined := make(chan chan []byte)
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			changes := make(chan []byte, 1)
			joined <- changes
			go write(conn, changes)
		}
	}()
	fmt.Println(listener.Addr())
	asked := make(chan struct{})
	go func() {
		defer close(asked)
		for lines := bufio.NewScanner(os.Stdin); lines.Scan(); {
			asked <- struct{}{}
		}
	}()
	var all []chan []byte
	number := 1
	for {
		select {
		case changes := <-joined:
			all = append(all, changes)
		case _, more := <-asked:
			if !more {
				return nil
			}
			number++
			block := fmt.Appendf(nil, "id: %d\nevent: change\ndata: {\"number\":%d,\"class\":\"told\",\"kind\":\"result\",\"at\":%q}\n\n", number, number, clock().UTC().Format(time.RFC3339Nano))
			for _, changes := range all {
				changes <- block
			}
		}
	}
}

// write writes what is told to one connection, after the number at which it begins.
func write(conn net.Conn, changes <-chan []byte) {
	block, more := []byte("retry: 2000\nid: 1\n\n"), true
	for more {
		if _, err := conn.Write(block); err != nil {
			return
		}
		block, more = <-changes
	}
}
