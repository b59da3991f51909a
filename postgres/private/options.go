package private

import (
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"time"
)

// Options say where the private database lives and which PostgreSQL runs it.
type Options struct {
	// Dir is the data folder. It is made when it is absent; [DefaultDir] proposes one.
	Dir string
	// BinDir is the folder that holds postgres and initdb. When it is empty the newest of Debian's folders that
	// fits the data is used, then the first folder of PATH that holds both.
	BinDir string
	// Log is told about first starts, orphans and restarts; nil is silence.
	Log *slog.Logger

	pauses []time.Duration // before each restart in a row, for tests; nil is defaultPauses
}

// DefaultDir returns the data folder to use when nobody named one. An ordinary user has it among the state files of the
// home folder; root has it where the user that root becomes for PostgreSQL can reach it, which a home folder is not.
func DefaultDir() (string, error) {
	if os.Geteuid() == 0 {
		return "/var/lib/clayline", nil
	}
	if state := os.Getenv("XDG_STATE_HOME"); filepath.IsAbs(state) {
		return filepath.Join(state, "clayline"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", fmt.Errorf("this user has no home folder to keep the data in; name a folder with --data: %w", err)
	}
	return filepath.Join(home, ".local", "state", "clayline"), nil
}
