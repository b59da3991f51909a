//go:build linux

package private

import (
	"context"
	"errors"
	"fmt"
	"os"
	"syscall"
	"time"
)

// lockPatience is how long a lock is asked for: a program killed a moment ago holds its own until it is quite gone.
const lockPatience = 2 * time.Second

// acquire takes the folder's lock for this program; closing the file gives it back. Children do not inherit the file.
// The file is never a link, so that root cannot be led elsewhere by the owner of the folder.
func (f folder) acquire(ctx context.Context) (*os.File, error) {
	file, err := os.OpenFile(f.lock(), os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		return nil, fmt.Errorf("this user may not use the data folder %s; start Clayline as the user who owns it or as root, "+
			"or choose another folder with --data: %w", f, err)
	}
	free := poll(ctx, lockPatience, func() bool {
		err = syscall.Flock(int(file.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
		return !errors.Is(err, syscall.EWOULDBLOCK) && !errors.Is(err, syscall.EINTR)
	})
	if free && err == nil {
		return file, nil
	}
	_ = file.Close()
	if free { // Not held by anyone, but refused all the same: some network disks have no locks.
		return nil, fmt.Errorf("%s cannot be locked; choose a folder on a disk of this machine with --data: %w", f.lock(), err)
	}
	return nil, fmt.Errorf("another Clayline is using the folder %s; stop it or choose another folder with --data", f)
}

// poll asks done every few milliseconds until it says true, and returns false when the time is over or ctx has ended.
func poll(ctx context.Context, limit time.Duration, done func() bool) bool {
	ctx, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	tick := time.NewTicker(5 * time.Millisecond)
	defer tick.Stop()
	for {
		if done() {
			return true
		}
		select {
		case <-tick.C:
		case <-ctx.Done():
			return false
		}
	}
}
