package desk

import (
	"context"
	"sync"
)

// server is what is known of the journals of this server all together: how many lines they have. A page that tells of many
// events, such as a season, is as good as that number.
type server struct {
	mu sync.Mutex
	// told counts what was heard of growth, lines is what the database said when it was at asked.
	told, asked int64
	lines       int64
}

// grew notes that some journal of the server may have grown; how far is asked when somebody wants to know.
func (l *Live) grew() {
	l.server.mu.Lock()
	defer l.server.mu.Unlock()
	l.server.told++
}

// total returns how many lines all journals of the server have. The database is asked once for whatever has grown since the
// last time, and each time while nobody listens.
func (l *Live) total(ctx context.Context) (lines int64, err error) {
	l.server.mu.Lock()
	told, known := l.server.told, l.server.asked == l.server.told && l.server.told > 0 && l.listening.Load()
	lines = l.server.lines
	l.server.mu.Unlock()
	if known {
		return lines, nil
	}
	err = l.store.InTx(ctx, Snapshot, func(tx Tx) error {
		lines, err = tx.Lines(ctx)
		return err
	})
	if err != nil {
		return 0, err
	}
	l.server.mu.Lock()
	defer l.server.mu.Unlock()
	// What was told of while the database was asked is asked about again.
	if told > l.server.asked {
		l.server.asked, l.server.lines = told, lines
	}
	return lines, nil
}

// ServerPage returns a public page that tells of many events, as [Live.Page] does one of an event: rendered once for a
// number of lines that the journals of this server have, all together, and shared by its readers.
func (l *Live) ServerPage(ctx context.Context, key string, render Render) (*Page, error) {
	head, err := l.total(ctx)
	if err != nil {
		return nil, err
	}
	return l.at(ctx, key, head, render)
}
