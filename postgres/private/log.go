//go:build linux

package private

import (
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"syscall"
)

// Bounds of the log, in bytes and lines. PostgreSQL writes little when all is well; a disk that fails fills any
// file.
const (
	logLimit = 8 << 20 // a log larger than this is cut at the next start
	logKept  = 1 << 20 // to its last bytes
	logQuote = 8 << 10 // how much of it is looked at for an error
	logLines = 12      // how many lines an error quotes
)

// openLog opens PostgreSQL's log for the child to append to. It is never a link: root must not write where the
// owner of the folder points.
func (f folder) openLog() (*os.File, error) {
	file, err := os.OpenFile(f.log(), os.O_RDWR|os.O_CREATE|os.O_APPEND|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		return nil, fmt.Errorf("the database's log cannot be written; move it away or choose another folder with --data: %w", err)
	}
	return file, nil
}

// trimLog cuts a large log to its end. The file stays the same one, with the same owner.
func (f folder) trimLog() error {
	file, err := f.openLog()
	if err != nil {
		return err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil || info.Size() <= logLimit {
		return err
	}
	kept := make([]byte, logKept)
	if _, err := file.ReadAt(kept, info.Size()-logKept); err != nil {
		return fmt.Errorf("the database's log %s cannot be cut; remove it: %w", f.log(), err)
	}
	if err := file.Truncate(0); err != nil {
		return fmt.Errorf("the database's log %s cannot be cut; remove it: %w", f.log(), err)
	}
	_, err = file.Write(kept)
	return err
}

// lastLines returns the last lines that were written to the log after the byte offset from, without those that only say
// that somebody asked too early: the program's own connections do while the database comes back.
func lastLines(log *os.File, from int64) string {
	info, err := log.Stat()
	if err != nil {
		return ""
	}
	from = max(from, info.Size()-logQuote)
	text, err := io.ReadAll(io.NewSectionReader(log, from, info.Size()-from))
	if err != nil {
		return ""
	}
	lines := slices.DeleteFunc(strings.Split(strings.TrimSpace(string(text)), "\n"), func(line string) bool {
		return strings.Contains(line, "FATAL:  the database system is ") ||
			strings.Contains(line, "DETAIL:  Consistent recovery state has not been yet reached")
	})
	return strings.Join(lines[max(0, len(lines)-logLines):], "\n")
}
