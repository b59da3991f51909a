package main

import (
	"bytes"
	"context"
	_ "embed"
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// npmPackage and npmLock pin what is fetched with npm; the lock holds the hash of each package of it, and no address.
var (
	//go:embed npm/package.json
	npmPackage []byte
	//go:embed npm/package-lock.json
	npmLock []byte
)

// The settings that name what was fetched. The tests read the first one.
const (
	validatorSetting  = "CLAYLINE_VALIDATOR"
	lighthouseSetting = "CLAYLINE_LIGHTHOUSE"
)

// java runs the validator, which wants version 17 or newer.
func java() need {
	return need{name: "Java 17 or newer", packages: []string{"default-jre-headless"}, find: onPath("java")}
}

// node runs Lighthouse, and npm fetches it and the validator.
func node() need {
	return need{name: "Node.js 18 or newer with npm", packages: []string{"nodejs", "npm"}, find: onPath("node", "npm")}
}

// onPath finds what needs no setting: the first of the programs, provided that all are on PATH.
func onPath(programs ...string) func(context.Context, machine) (string, error) {
	return func(_ context.Context, m machine) (string, error) {
		for _, program := range programs {
			if !m.has(program) {
				return "", nil
			}
		}
		return m.look(programs[0])
	}
}

// validator is the checker of HTML, to which the tests give every page.
func validator() need {
	return need{
		name: "the Nu Html Checker", setting: validatorSetting, fetch: fetchNPM,
		find: fetched(validatorSetting, "vnu-jar", "build", "dist", "vnu.jar"),
	}
}

// auditor is Lighthouse, which rates a page as a phone loads it.
func auditor() need {
	return need{
		name: "Lighthouse", setting: lighthouseSetting, fetch: fetchNPM,
		find: fetched(lighthouseSetting, "lighthouse", "cli", "index.js"),
	}
}

// fetched finds a file of what was fetched: the setting's, else the one in the user's cache as long as the lock there is
// the lock here.
func fetched(setting string, file ...string) func(context.Context, machine) (string, error) {
	return func(_ context.Context, m machine) (string, error) {
		if path := m.env(setting); path != "" {
			if _, err := os.Stat(path); err != nil {
				return "", fmt.Errorf("%s is %q, where there is no such file; correct it or unset it", setting, path)
			}
			return path, nil
		}
		folder, err := m.store()
		if err != nil {
			return "", err
		}
		lock, err := os.ReadFile(filepath.Join(folder, "package-lock.json")) // #nosec G304 -- a file of the user's cache
		// npm writes its own list last, so that a fetch that was broken off counts for nothing.
		_, unfinished := os.Stat(filepath.Join(folder, "node_modules", ".package-lock.json"))
		if err != nil || unfinished != nil || !bytes.Equal(lock, npmLock) {
			return "", nil //nolint:nilerr // missing, which is no fault of the search
		}
		return filepath.Join(append([]string{folder, "node_modules"}, file...)...), nil
	}
}

// store is the folder in the user's cache for what the check fetches.
func (m machine) store() (string, error) {
	cache, err := m.cache()
	return filepath.Join(cache, "clayline", "check"), err
}

// fetchNPM brings what the lock pins into the user's cache. None of the scripts that packages bring is run.
func fetchNPM(ctx context.Context, m machine) error {
	folder, err := m.store()
	if err != nil {
		return err
	}
	err = errors.Join(
		os.MkdirAll(folder, 0o750),
		os.WriteFile(filepath.Join(folder, "package.json"), npmPackage, 0o600),
		os.WriteFile(filepath.Join(folder, "package-lock.json"), npmLock, 0o600),
	)
	if err != nil {
		return err
	}
	fmt.Fprintf(m.out, "== fetch: the Nu Html Checker and Lighthouse into %s\n", folder)
	return m.twice(ctx, command{args: []string{"npm", "ci", "--ignore-scripts", "--no-audit", "--no-fund"}, folder: folder})
}
