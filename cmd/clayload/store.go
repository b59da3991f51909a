package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"sync"
	"time"

	"github.com/google/uuid"
)

// storeCommand measures writing: what happens between the official's button and a distance that will survive a power
// cut.
type storeCommand struct {
	Rounds  int    `default:"5" help:"Alternating rounds."`
	Hooks   int    `default:"40" help:"Hooks that a client stores in a round, in a class of its own."`
	Pgbench string `env:"CLAYLINE_PGBENCH" help:"The pgbench program." placeholder:"FILE"`
}

// transactions is how many transactions pgbench does a client and round: enough for a rate, and over in seconds.
const transactions = 400

// plain is pgbench's side: a result in four statements, on tables of the shape that a simple program would have. One
// transaction of four statements is what a program without a journal would do: begin, the run, the entry's count,
// commit. It is durable too, as ours is.
const plain = `\set n random(1, 2000)
BEGIN;
INSERT INTO bench_run (entry, distance) VALUES (:n, 281.36);
UPDATE bench_entry SET runs = runs + 1 WHERE id = :n;
COMMIT;
`

// peerTables are the peer's tables. Two thousand entries keep the transactions of eight clients from waiting for each
// other's row.
const peerTables = `
CREATE TABLE bench_entry (id int PRIMARY KEY, runs int NOT NULL);
INSERT INTO bench_entry SELECT n, 0 FROM generate_series(1, 2000) n;
CREATE TABLE bench_run (id bigserial PRIMARY KEY, entry int NOT NULL, distance numeric NOT NULL);`

// Run stores distances over the interface for programs, with one client and with eight in classes apart. One client
// shows what a write takes, eight whether writes of different classes wait for each other. The first error ends it,
// since a ratio with a hole in it would be taken for a good one.
func (c storeCommand) Run(ctx context.Context) error {
	h, err := open(ctx)
	if err != nil {
		return err
	}
	defer h.shut()
	bench, err := c.bench(ctx, h)
	if err != nil {
		return err
	}
	fmt.Printf("%d hooks a client and round over HTTP, durable; pgbench %d transactions; %d rounds\n", c.Hooks, transactions, c.Rounds)
	for _, clients := range []int{1, 8} {
		var ours, peers []sample
		for round := range c.Rounds {
			mine, err := c.store(ctx, h, clients, round)
			if err != nil {
				return err
			}
			theirs, err := bench(clients)
			if err != nil {
				return err
			}
			ours, peers = append(ours, mine), append(peers, theirs)
		}
		compare(fmt.Sprintf("store a distance / pgbench, %d clients", clients), ours, peers)
	}
	return nil
}

// store lets every client store its hooks, each in a class of its own. Planning them is not measured. What clients
// could not store is the error, of all of them.
func (c storeCommand) store(ctx context.Context, h *house, clients, round int) (sample, error) {
	classes, hooks := make([]string, clients), make([]uuid.UUID, clients)
	for i := range clients {
		hooks[i] = uuid.New()
		var err error
		if classes[i], err = h.class(ctx, fmt.Sprintf("Class %d of %d, round %d", i, clients, round), c.Hooks, hooks[i]); err != nil {
			return sample{}, err
		}
	}
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: clients}}
	defer client.CloseIdleConnections()
	times, errs := make([][]time.Duration, clients), make([]error, clients)
	began := clock()
	var writers sync.WaitGroup
	for i := range clients {
		writers.Go(func() {
			hook := hooks[i]
			for range c.Hooks {
				// Storing a distance calls the next puller, whose hook we name ourselves, so that no answer has to be
				// read to go on.
				next, sent := uuid.New(), clock()
				if errs[i] = h.record(ctx, client, classes[i], hook, next, "87.34"); errs[i] != nil {
					return
				}
				times[i], hook = append(times[i], clock().Sub(sent)), next
			}
		})
	}
	writers.Wait()
	while := clock().Sub(began)
	var all []time.Duration
	for _, t := range times {
		all = append(all, t...)
	}
	return sampled(all, while), errors.Join(errs...)
}

// major reads the version out of Debian's path of a program, 0 where it has none.
func major(program string) int {
	version, err := strconv.Atoi(filepath.Base(filepath.Dir(filepath.Dir(program))))
	if err != nil {
		return 0
	}
	return version
}

// rates are what pgbench says at its end. Connecting is left out on both sides.
var rates = regexp.MustCompile(`tps = ([0-9.]+) \(without initial connection time\)`)

// bench makes the peer's tables and returns what runs pgbench once. It fails when there is no pgbench, or none that
// runs against the database of the house. psql is the one beside it.
func (c storeCommand) bench(ctx context.Context, h *house) (func(clients int) (sample, error), error) {
	program := c.Pgbench
	if program == "" {
		found, err := filepath.Glob("/usr/lib/postgresql/*/bin/pgbench")
		if err != nil || len(found) == 0 {
			return nil, errors.New("pgbench is not here; install PostgreSQL's programs or name it with --pgbench")
		}
		// Debian keeps it off PATH, in one folder for each version.
		program = slices.MaxFunc(found, func(a, b string) int { return cmp.Compare(major(a), major(b)) })
	}
	tables := exec.CommandContext(ctx, filepath.Join(filepath.Dir(program), "psql"), "-q", "-v", "ON_ERROR_STOP=1", "-c", peerTables, h.database()) // #nosec G204 -- the user's own program
	if out, err := tables.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("psql: %w: %s", err, out)
	}
	script := filepath.Join(h.dir, "plain.sql")
	if err := os.WriteFile(script, []byte(plain), 0o600); err != nil {
		return nil, err
	}
	return func(clients int) (sample, error) {
		run := exec.CommandContext(ctx, program, "-n", "-f", script, "-c", fmt.Sprint(clients), "-t", fmt.Sprint(transactions), h.database()) // #nosec G204 -- the user's own program
		out, err := run.CombinedOutput()
		told := rates.FindSubmatch(out)
		if err != nil || told == nil {
			return sample{}, fmt.Errorf("pgbench: %w: %s", err, out)
		}
		// Its latency is a mean and not a p99, so that the rate alone is compared.
		rate, err := strconv.ParseFloat(string(told[1]), 64)
		return sample{rate: rate}, err
	}, nil
}
