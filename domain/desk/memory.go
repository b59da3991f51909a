package desk

import (
	"sync"
	"time"
)

// memory remembers the passes of the last minute by their secrets.
type memory struct {
	mu     sync.Mutex
	passes map[string]remembered
}

type remembered struct {
	pass  Pass
	until time.Time
}

const (
	memoryLife = time.Minute
	memorySize = 1000
)

func newMemory() *memory { return &memory{passes: make(map[string]remembered)} }

func (m *memory) get(secret string, at time.Time) (Pass, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	r, ok := m.passes[secret]
	return r.pass, ok && at.Before(r.until)
}

// put remembers a pass. A full memory forgets everything: it is refilled within a minute.
func (m *memory) put(secret string, p Pass, at time.Time) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.passes) >= memorySize {
		clear(m.passes)
	}
	m.passes[secret] = remembered{pass: p, until: at.Add(memoryLife)}
}
