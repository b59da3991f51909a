//go:build linux

package private

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"syscall"
)

// account is the user that PostgreSQL runs as. It always has an entry among the users of the machine, without which
// initdb does not work.
type account struct {
	name   string
	uid    uint32
	gid    uint32
	groups []uint32
	drop   bool // this program is root and its children must change to the account
}

// chooseAccount returns this program's own user or, for root, the owner of the data, of the folder, or a stand-in. The
// owner comes first so that data made by an ordinary user stays usable to that user after root has run over it.
func chooseAccount(f folder) (account, error) {
	if uid := os.Geteuid(); uid != 0 {
		a, err := accountOf(uint32(uid))
		if err != nil {
			return account{}, fmt.Errorf("the user with the number %d has no name on this machine, which PostgreSQL needs; "+
				"add it to /etc/passwd, start as another user, or use DATABASE_URL: %w", uid, err)
		}
		return a, nil
	}
	if uid, ok := ownerOf(f.data()); ok && uid != 0 {
		a, err := accountOf(uid)
		if err != nil {
			return account{}, fmt.Errorf("the database in %s belongs to the user number %d, who has no name on this machine; "+
				"add that user to /etc/passwd or give the data to another (chown -R postgres %[1]s): %[3]w", f.data(), uid, err)
		}
		return a, nil
	}
	if uid, ok := ownerOf(string(f)); ok && uid != 0 {
		if a, err := accountOf(uid); err == nil {
			return a, nil
		}
	}
	// Debian makes postgres with the package; nobody is everywhere.
	for _, name := range []string{"postgres", "nobody"} {
		if u, err := user.Lookup(name); err == nil {
			return newAccount(u)
		}
	}
	return account{}, errors.New("PostgreSQL must not run as root, and this machine has neither a user postgres nor nobody; " +
		"start Clayline as an ordinary user, or use DATABASE_URL")
}

// accountOf looks a user up by number.
func accountOf(uid uint32) (account, error) {
	u, err := user.LookupId(strconv.FormatUint(uint64(uid), 10))
	if err != nil {
		return account{}, err
	}
	return newAccount(u)
}

// newAccount reads the numbers of a user. Groups that cannot be read are left out: fewer rights, never more.
func newAccount(u *user.User) (account, error) {
	uid, err := strconv.ParseUint(u.Uid, 10, 32)
	if err != nil {
		return account{}, err
	}
	gid, err := strconv.ParseUint(u.Gid, 10, 32)
	if err != nil {
		return account{}, err
	}
	a := account{name: u.Username, uid: uint32(uid), gid: uint32(gid), drop: os.Geteuid() == 0}
	ids, _ := u.GroupIds()
	for _, id := range ids {
		if n, err := strconv.ParseUint(id, 10, 32); err == nil {
			a.groups = append(a.groups, uint32(n))
		}
	}
	return a, nil
}

// attributes are those of every child: a process group of its own, so that a Ctrl-C at the terminal reaches this
// program alone, and SIGINT, PostgreSQL's clean stop, when this program dies.
func (a account) attributes() *syscall.SysProcAttr {
	attr := &syscall.SysProcAttr{Setpgid: true, Pdeathsig: syscall.SIGINT}
	if a.drop {
		attr.Credential = &syscall.Credential{Uid: a.uid, Gid: a.gid, Groups: a.groups}
	}
	return attr
}

// claim makes dir, where it is absent, a folder for the account alone. Only for folders that this package makes.
// Links are not followed, so that root gives away nothing else.
func (a account) claim(dir string) error {
	if err := os.Mkdir(dir, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	if a.owns(dir) {
		return nil
	}
	info, err := os.Lstat(dir)
	if err != nil {
		return err
	}
	if !info.IsDir() {
		return fmt.Errorf("%s is not a folder; move it away", dir)
	}
	if err := os.Chmod(dir, 0o700); err != nil {
		return err
	}
	if a.drop {
		return os.Lchown(dir, int(a.uid), int(a.gid))
	}
	return nil
}

// owns reports whether dir is a real folder that the account, and nobody else, may use.
func (a account) owns(dir string) bool {
	info, err := os.Lstat(dir)
	if err != nil || !info.IsDir() || info.Mode().Perm() != 0o700 {
		return false
	}
	uid, ok := ownerOf(dir)
	return ok && uid == a.uid
}

// ownerOf returns the number of the user to whom path itself belongs, not what it points to.
func ownerOf(path string) (uint32, bool) {
	info, err := os.Lstat(path)
	if err != nil {
		return 0, false
	}
	stat, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return 0, false
	}
	return stat.Uid, true
}

// need is one right that the account must have, and what a person can do who finds it missing.
type need struct {
	test string // the flag of test(1)
	path string
	verb string // what the account may not do with the path
	fix  string
}

// asking is a shell program that tries pairs of flag and path, and answers with the number of words left at the
// first that fails. It runs as the account, so the answer is the kernel's and counts groups, ACLs and all.
const asking = `while [ $# -gt 1 ]; do test "$1" "$2" || { echo $#; exit 3; }; shift 2; done`

// prove tries every need as the account and names the first that is missing.
func (a account) prove(ctx context.Context, needs []need) error {
	args := []string{"-c", asking, "sh"}
	for _, n := range needs {
		args = append(args, n.test, n.path)
	}
	cmd := exec.CommandContext(ctx, "/bin/sh", args...)
	cmd.Dir, cmd.SysProcAttr = "/", a.attributes()
	out, err := runLocked(cmd)
	if err == nil {
		return nil
	}
	// Without a number in its answer the shell did not even start.
	var left int
	if _, scanErr := fmt.Sscan(out, &left); scanErr != nil || left < 2 || left > 2*len(needs) {
		return fmt.Errorf("no program can be started as the user %s; start Clayline as an ordinary user: %w", a.name, err)
	}
	missing := needs[len(needs)-left/2]
	return fmt.Errorf("PostgreSQL runs as the user %s, who may not %s %s%s; %s",
		a.name, missing.verb, missing.path, rights(missing.path), missing.fix)
}

// rights describes who may use path, such as " (drwx------ of root)".
func rights(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	owner := "another user"
	if uid, ok := ownerOf(path); ok {
		owner = fmt.Sprintf("user %d", uid)
		if u, err := user.LookupId(strconv.FormatUint(uint64(uid), 10)); err == nil {
			owner = u.Username
		}
	}
	return fmt.Sprintf(" (%s of %s)", info.Mode(), owner)
}

// passages are the needs of getting to dir: to pass through each folder from the root down to it.
func passages(dir, other string) []need {
	var needs []need
	for ; ; dir = filepath.Dir(dir) {
		fix := fmt.Sprintf("%s, or let that user pass (chmod o+x %s)", other, dir)
		needs = append(needs, need{"-x", dir, "pass through the folder", fix})
		if dir == filepath.Dir(dir) {
			slices.Reverse(needs)
			return needs
		}
	}
}
