//go:build linux

package private

import (
	"context"
	"fmt"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/stretchr/testify/require"
)

// writerEnv names the folder over which a copy of the test program writes rows until it is killed.
const writerEnv = "CLAYLINE_TEST_WRITER"

func TestMain(m *testing.M) {
	if dir := os.Getenv(writerEnv); dir != "" {
		fmt.Fprintln(os.Stderr, write(dir))
		os.Exit(1)
	}
	code := m.Run()
	if dir, err := template(); err == nil {
		_ = os.RemoveAll(dir)
	}
	os.Exit(code)
}

// write starts the database in dir and stores 1, 2, 3 …, printing the postmaster's number first and then each row's number once
// it is committed. It returns only when something goes wrong.
func write(dir string) error {
	ctx := context.Background()
	s, err := Start(ctx, Options{Dir: dir})
	if err != nil {
		return err
	}
	conn, err := pgx.Connect(ctx, s.URL())
	if err != nil {
		return err
	}
	if _, err := conn.Exec(ctx, "CREATE TABLE IF NOT EXISTS hook (number bigint PRIMARY KEY)"); err != nil {
		return err
	}
	fmt.Println(postmaster(s.folder.data()))
	for n := 1; ; n++ {
		if _, err := conn.Exec(ctx, "INSERT INTO hook (number) VALUES ($1)", n); err != nil {
			return err
		}
		fmt.Println(n)
	}
}

// template makes one stopped cluster a run, for tests that need one but not its making: a copy is much cheaper.
var template = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "clayline-template-")
	if err != nil {
		return "", err
	}
	if err := os.Chmod(dir, 0o711); err != nil {
		return dir, err
	}
	s, err := Start(context.Background(), Options{Dir: dir})
	if err != nil {
		return dir, err
	}
	return dir, s.Stop(context.Background())
})

// emptyDir returns a new data folder that the user of the database can reach; the test's own parent folder is closed to others.
func emptyDir(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.Chmod(filepath.Dir(dir), 0o711))
	require.NoError(t, os.Chmod(dir, 0o711))
	return dir
}

// filledDir returns a data folder with a stopped cluster in it.
func filledDir(t testing.TB) string {
	t.Helper()
	from, err := template()
	require.NoError(t, err)
	dir := emptyDir(t)
	require.NoError(t, exec.Command("cp", "-a", filepath.Join(from, "data"), dir).Run())
	return dir
}

// options are those of a test: the log goes to the test's own.
func options(t testing.TB, dir string) Options {
	return Options{Dir: dir, Log: slog.New(slog.NewTextHandler(t.Output(), nil))}
}

// begin starts the database in dir and stops it when the test ends.
func begin(t testing.TB, dir string) *Server {
	t.Helper()
	s, err := Start(t.Context(), options(t, dir))
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Stop(context.Background()) })
	return s
}

// exec1 runs a statement on a connection of its own and returns the first column of its first row, if it has any.
func exec1(ctx context.Context, s *Server, statement string, args ...any) (string, error) {
	conn, err := pgx.Connect(ctx, s.URL())
	if err != nil {
		return "", err
	}
	defer conn.Close(ctx)
	rows, err := conn.Query(ctx, statement, args...)
	if err != nil {
		return "", err
	}
	all, err := pgx.CollectRows(rows, func(row pgx.CollectableRow) (string, error) {
		values, err := row.Values()
		return fmt.Sprint(values...), err
	})
	if len(all) == 0 {
		return "", err
	}
	return all[0], err
}

// ask is exec1 that must succeed.
func ask(t testing.TB, s *Server, statement string, args ...any) string {
	t.Helper()
	answer, err := exec1(t.Context(), s, statement, args...)
	require.NoError(t, err)
	return answer
}

// eventually waits for something that other processes do.
func eventually(t testing.TB, limit time.Duration, what string, done func() bool) {
	t.Helper()
	require.Eventually(t, done, limit, 5*time.Millisecond, what)
}

// kill sends SIGKILL.
func kill(t testing.TB, pid int) {
	t.Helper()
	require.Positive(t, pid)
	require.NoError(t, syscall.Kill(pid, syscall.SIGKILL))
}

// asOwner makes cmd run as the user that the cluster in dir runs as.
func asOwner(t testing.TB, cmd *exec.Cmd, dir string) *exec.Cmd {
	t.Helper()
	a, err := chooseAccount(folder(dir))
	require.NoError(t, err)
	cmd.SysProcAttr, cmd.Dir = a.attributes(), "/"
	cmd.SysProcAttr.Pdeathsig = 0
	return cmd
}

// needRoot skips a test about what root does.
func needRoot(t testing.TB) {
	t.Helper()
	if os.Geteuid() != 0 {
		t.Skip("only root becomes another user")
	}
}

// digits reads a line of digits.
func digits(t testing.TB, line string) int {
	t.Helper()
	n, err := strconv.Atoi(line)
	require.NoError(t, err)
	return n
}
