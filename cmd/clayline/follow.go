package main

import (
	"context"
	"time"

	"clayline/domain/desk"
)

// Pauses of following the journals: after the line to the database was lost, and between two sweeps of what nobody
// uses. The first is short, since until it is over each reader costs the database a question.
const (
	followPause = 200 * time.Millisecond
	sweepPause  = 10 * time.Minute
)

// follow keeps what readers see current until ctx ends, whatever becomes of the line to the database. Nothing
// waits for it at the end: it holds nothing that has to be given back.
func follow(ctx context.Context, live *desk.Live, listener desk.Listener) {
	go func() {
		for ctx.Err() == nil {
			_ = live.Follow(ctx, listener) // readers ask the database meanwhile
			pause(ctx, followPause)
		}
	}()
	for pause(ctx, sweepPause) {
		live.Sweep()
	}
}

// pause waits, and reports whether ctx goes on. False is told at once when ctx ends, however much of the while is left.
func pause(ctx context.Context, while time.Duration) bool {
	timer := time.NewTimer(while)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return false
	case <-timer.C:
		return true
	}
}
