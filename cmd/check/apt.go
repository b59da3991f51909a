package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// clusterSettings keep Debian's PostgreSQL package from starting a database of its own beside ours: the one that it makes
// when it is installed for the first time stays off, at boot too. They reach the package by its environment, so that no
// setting of the machine is changed. Whoever wants that database later switches it on in its start.conf.
const clusterSettings = "start_conf = 'disabled'\n"

// provide sees to it that everything needed is there and returns the settings that tell the tests where. It installs
// what is missing where it can, and otherwise returns what to install as an error. It looks again after installing: a
// package that was installed need not bring what its name says.
func (m machine) provide(ctx context.Context, needs []need) ([]string, error) {
	env, missing, err := m.survey(ctx, needs)
	if err != nil || len(missing) == 0 {
		return env, err
	}
	packaged, others := apart(missing)
	if len(packaged) > 0 && (m.uid != 0 || !m.has("apt-get")) {
		return nil, m.refusal(packaged)
	}
	if len(packaged) > 0 {
		if err := m.install(ctx, packaged); err != nil {
			return nil, fmt.Errorf("the installation failed: %w; install %s by hand, then run this again", err, strings.Join(packages(packaged), " "))
		}
	}
	if err := m.fetchAll(ctx, others); err != nil {
		return nil, err
	}
	env, missing, err = m.survey(ctx, needs)
	if err == nil && len(missing) > 0 {
		err = fmt.Errorf("the installation has run, but this is still missing:\n%sinstall it by hand and set the variable to its place", list(missing))
	}
	return env, err
}

// apart tells the needs that Debian's packages bring from those that are fetched.
func apart(missing []need) (packaged, others []need) {
	for _, n := range missing {
		if n.fetch == nil {
			packaged = append(packaged, n)
		} else {
			others = append(others, n)
		}
	}
	return packaged, others
}

// fetchAll fetches what is still missing of the needs; one fetch may bring several.
func (m machine) fetchAll(ctx context.Context, others []need) error {
	for _, n := range others {
		value, err := n.find(ctx, m)
		if err == nil && value == "" {
			err = n.fetch(ctx, m)
		}
		if err != nil {
			return fmt.Errorf("%s could not be fetched: %w; run this again, or set %s to its place", n.name, err, n.setting)
		}
	}
	return nil
}

// survey returns the settings of what is there, and what is not. The first setting that is wrong ends it, as an error:
// it is to be corrected and not made up for by an installation.
func (m machine) survey(ctx context.Context, needs []need) (env []string, missing []need, err error) {
	for _, n := range needs {
		value, err := n.find(ctx, m)
		if err != nil {
			return nil, nil, err
		}
		if value == "" {
			missing = append(missing, n)
			continue
		}
		if n.setting != "" {
			env = append(env, n.setting+"="+value)
		}
	}
	return env, missing, nil
}

// refusal says what is missing and how to get it, with a line to copy where there is apt. Nothing is installed for
// somebody who is not root: asking for a password in the middle of a check would stop it.
func (m machine) refusal(missing []need) error {
	how := "install it with this machine's package manager, or set the variable to its place"
	if m.has("apt-get") {
		how = "install it with this line, or set the variable to its place:\n\n  sudo apt-get update && sudo " +
			strings.Join(installation(missing), " ") + "\n"
	}
	return fmt.Errorf("the tests need what this machine does not have:\n%s%s", list(missing), how)
}

// list names the needs, one a line, with the variable that says where each is. Each line is indented by two spaces and
// ends with a line feed.
func list(needs []need) string {
	var b strings.Builder
	for _, n := range needs {
		fmt.Fprintf(&b, "  %s\n", n.told())
	}
	return b.String()
}

// packages lists the packages that bring the needs. They are in the order of the needs, which is the order of the line
// to copy.
func packages(needs []need) []string {
	var all []string
	for _, n := range needs {
		all = append(all, n.packages...)
	}
	return all
}

// installation returns the apt-get command that installs the needs. Without what is recommended: PostgreSQL would bring
// a service and its tools, Chromium half a desktop.
func installation(needs []need) []string {
	return append([]string{"apt-get", "install", "-y", "--no-install-recommends"}, packages(needs)...)
}

// install installs the needs with apt-get. The first of the two commands reads the lists of packages, which a fresh
// container does not have. Nothing asks anything.
func (m machine) install(ctx context.Context, missing []need) (err error) {
	fmt.Fprintf(m.out, "== install: %s\n", strings.Join(packages(missing), " "))
	settings, err := os.MkdirTemp("", "check-postgresql-")
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(settings)) }()
	if err := writeClusterSettings(settings); err != nil {
		return err
	}
	env := []string{"DEBIAN_FRONTEND=noninteractive", "PGSYSCONFDIR=" + settings}
	if err := m.twice(ctx, command{args: []string{"apt-get", "update", "-q"}, env: env}); err != nil {
		return err
	}
	return m.twice(ctx, command{args: append(installation(missing), "-q"), env: env})
}

// writeClusterSettings puts [clusterSettings] where the package's scripts, which are not root throughout, can read
// them. PGSYSCONFDIR names the folder, and createcluster.conf is the name that the package looks for in it.
func writeClusterSettings(folder string) error {
	if err := os.Chmod(folder, 0o755); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "createcluster.conf"), []byte(clusterSettings), 0o644)
}

// twice runs the command and, when it fails, once more: mirrors and locks are often free again a moment later. An end
// of ctx is not tried again.
func (m machine) twice(ctx context.Context, c command) error {
	err := m.run(ctx, c)
	if err == nil || ctx.Err() != nil {
		return err
	}
	fmt.Fprintf(m.out, "%v; trying once more\n", err)
	return m.run(ctx, c)
}
