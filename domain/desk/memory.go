package desk

import (
	"sync"
	"time"
)

// memory remembers the passes of the last minute by their secrets, so that an action costs no trip to the
// database to find out who acts. What a pass allows never changes after it was used. Its age is looked at each time,
// and whether it was ended meanwhile, here or by another process, the action asks under its own lock; see
// [Desk.Acting].
type memory struct {
	mu     sync.Mutex
	passes map[string]remembered
}

// remembered is a pass and until when it is taken from memory.
type remembered struct {
	pass  Pass
	until time.Time
}

// memoryLife is how long a pass is remembered, memorySize how many are: more than an event has devices.
const (
	memoryLife = time.Minute
	memorySize = 1000
)

// newMemory returns a memory that knows nobody.
func newMemory() *memory { return &memory{passes: make(map[string]remembered)} }

// get returns the pass of a secret, and whether it is remembered at that time.
func (m *memory) get(secret string, at time.Time) (Pass, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	r, ok := m.passes[secret]
	return r.pass, ok && at.Before(r.until)
}

// put remembers a pass. A full memory forgets everything: it is refilled within a minute, and no order of age
// has to be kept.
func (m *memory) put(secret string, p Pass, at time.Time) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.passes) >= memorySize {
		clear(m.passes)
	}
	m.passes[secret] = remembered{pass: p, until: at.Add(memoryLife)}
}
