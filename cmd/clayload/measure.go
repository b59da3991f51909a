package main

import (
	"fmt"
	"slices"
	"time"
)

// sample is what one round of one side gave. A p99 of 0 says that the side tells only its rate, as pgbench does.
type sample struct {
	rate float64       // per second
	p50  time.Duration // of one
	p99  time.Duration
}

// sampled sums up the times of n things done in a while by several clients. It sorts the times, of which there must be
// one at least. Of 200 times the p99 is the third from the top.
func sampled(times []time.Duration, while time.Duration) sample {
	if len(times) == 0 {
		return sample{}
	}
	slices.Sort(times)
	return sample{
		rate: float64(len(times)) / while.Seconds(),
		p50:  times[len(times)/2],
		p99:  times[len(times)*99/100],
	}
}

// compare prints the ratio of two sides over rounds: median, and the lowest and highest in brackets. There must be one
// round at least, and as many of ours as of the peer's.
//
//	class page / plain net/http     rate 0.84 [0.80-0.87] of the peer's, p99 1.21 [1.15-1.30] times the peer's
//
// Ratios and not times, because a time says how fast this machine is, and that today; a ratio of two sides that ran one
// after the other can be held against a goal anywhere. Each is of the two sides of one round: the rounds alternate, so
// that a machine that becomes warm or busy does so to both, and the spread says how much of the ratio is chance.
func compare(what string, ours, peers []sample) {
	var rates, tails []float64
	for i := range ours {
		rates = append(rates, ours[i].rate/peers[i].rate)
		if peers[i].p99 > 0 {
			tails = append(tails, float64(ours[i].p99)/float64(peers[i].p99))
		}
	}
	fmt.Printf("%-46s rate %s of the peer's", what, spread(rates))
	if len(tails) > 0 {
		fmt.Printf(", p99 %s times the peer's", spread(tails))
	}
	fmt.Println()
}

// spread writes a median with the lowest and the highest: "0.84 [0.80-0.87]". It sorts them. Of an even number the
// upper of the two in the middle is taken.
func spread(values []float64) string {
	slices.Sort(values)
	return fmt.Sprintf("%.2f [%.2f-%.2f]", values[len(values)/2], values[0], values[len(values)-1])
}
