package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/webui/gallery"
)

// validatorJar is where the Nu Html Checker is: where CLAYLINE_VALIDATOR says, else where the check keeps it.
func validatorJar(t *testing.T) string {
	t.Helper()
	jar := os.Getenv("CLAYLINE_VALIDATOR")
	if jar == "" {
		cache, err := os.UserCacheDir()
		require.NoError(t, err)
		jar = filepath.Join(cache, "clayline", "check", "node_modules", "vnu-jar", "build", "dist", "vnu.jar")
	}
	require.FileExists(t, jar, "go run ./cmd/check -only tests fetches the Nu Html Checker")
	return jar
}

// faultsOfHTML is what the checker finds in the pages of the folder, warnings too, one a line, and "" for nothing.
func faultsOfHTML(t *testing.T, folder string) string {
	t.Helper()
	found, err := exec.CommandContext(t.Context(), "java", "-Xss1m", "-jar", validatorJar(t), "--Werror", "--stdout", folder).Output() // #nosec G204 -- the checker
	if failed := new(exec.ExitError); !errors.As(err, &failed) {
		require.NoError(t, err)
		return ""
	} else if len(found) == 0 {
		return string(failed.Stderr)
	}
	return strings.ReplaceAll(string(found), "file:"+folder+"/", "")
}

// keepPage writes a page into the folder.
func keepPage(t *testing.T, folder, name, body string) {
	t.Helper()
	require.NoError(t, os.WriteFile(filepath.Join(folder, name+".html"), []byte(body), 0o600))
}

// Every state of every page, and the pages of an event with all that happens there, are HTML as its standard (whatwg.org) has
// it. What is wrong is found.
func TestEveryPageIsValidHTML(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	for _, p := range gallery.Pages() {
		var body strings.Builder
		require.NoError(t, p.Body.Render(t.Context(), &body))
		keepPage(t, folder, "gallery-"+p.Name, body.String())
	}
	s := newSite(t)
	desk := visitor{fair: &fair{site: s}}.as(domain.Desk)
	for _, p := range fairPages(t, s) {
		keepPage(t, folder, p.name, desk.get(p.path).body)
	}
	keepPage(t, folder, "wrong", `<!doctype html><html lang="en"><title>Made up</title><ul><p>Words</p></ul></html>`)
	assert.Equal(t, `"wrong.html":1.58-1.60: error: Element “p” not allowed as child of element “ul” in this context.`+
		" (Suppressing further errors from this subtree.)\n", faultsOfHTML(t, folder))
}
