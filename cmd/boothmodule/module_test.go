package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/doc"
	"clayline/webui"
)

// top is the top of the tree.
const top = "../.."

func TestTheListOfSourcesIsOfWhatIsCompiled(t *testing.T) {
	list, err := sums(t.Context(), top)
	require.NoError(t, err)
	for _, name := range []string{"  domain/class.go\n", "  webui/booth.go\n", "  webui/templates/booth_templ.go\n", "  cmd/boothmodule/main_js.go\n", "module github.com/a-h/templ v"} {
		require.Contains(t, list, name)
	}
	for _, name := range []string{"_test.go", "webui/desk.go", "postgres/", "labstack/echo", "cmd/boothmodule/module.go", "static/files.go"} {
		require.NotContains(t, list, name, "what needs a server or is a test is not in the module")
	}
	again, err := sums(t.Context(), top)
	require.NoError(t, err)
	require.Equal(t, list, again)
}

func TestCommentsAreNotInTheSum(t *testing.T) {
	dir := t.TempDir()
	line := func(text string) string {
		path := filepath.Join(dir, "a.go")
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		said, err := sum(dir, path)
		require.NoError(t, err)
		return said
	}
	plain := line("package a\n\nfunc f() int { return 1 }\n")
	require.True(t, strings.HasSuffix(plain, "  a.go"))
	require.Equal(t, plain, line("// Package a is told about.\npackage a\n\n// f is one.\nfunc f() int { return 1 }\n"))
	require.NotEqual(t, plain, line("package a\n\nfunc f() int { return 2 }\n"))
	_, err := sum(dir, filepath.Join(dir, "b.go"))
	require.Error(t, err)
}

func TestAnOldModuleIsNamed(t *testing.T) {
	require.Equal(t, "a.go", differing("1  a.go\n2  b.go\n", "3  a.go\n2  b.go\n"))
	require.Equal(t, "x v2, x v1", differing("module x v1\n", "module x v2\n"))
	require.Equal(t, "a, b, c and others", differing("", "1  a\n1  b\n1  c\n1  d\n"))
	require.Empty(t, differing("1  a\n", "1  a\n"))
	require.Error(t, check(t.Context(), t.TempDir()), "where there is no tree")
}

func TestThePackedModuleIsWebAssembly(t *testing.T) {
	file, err := os.Open(filepath.Join(top, moduleFile))
	require.NoError(t, err)
	defer func() { require.NoError(t, file.Close()) }()
	reader, err := gzip.NewReader(file)
	require.NoError(t, err)
	head := make([]byte, 4)
	_, err = io.ReadFull(reader, head)
	require.NoError(t, err)
	require.Equal(t, "\x00asm", string(head))

	packed, err := pack([]byte("abc"))
	require.NoError(t, err)
	reader, err = gzip.NewReader(bytes.NewReader(packed))
	require.NoError(t, err)
	unpacked, err := io.ReadAll(reader)
	require.NoError(t, err)
	require.Equal(t, "abc", string(unpacked))
}

// asked is a question of the booth's page about a class with one entry.
func asked(t *testing.T, form *webui.KeptForm) []byte {
	t.Helper()
	rules, err := doc.ReadyMadeRuleSet("capped-300ft")
	require.NoError(t, err)
	text, err := doc.WriteClassCopy(doc.ClassCopy{
		Event: domain.Event{Slug: "tarn-hollow", Zone: "UTC"}, Class: domain.Class{Slug: "field-stock", Name: "Field Stock", Rules: rules}, Number: 7, Offset: 3600,
	})
	require.NoError(t, err)
	asked, err := json.Marshal(question{Page: "booth", Copy: text, Form: form})
	require.NoError(t, err)
	return asked
}

func TestAQuestionIsAnswered(t *testing.T) {
	var out bytes.Buffer
	require.NoError(t, run(t.Context(), nil, bytes.NewReader(asked(t, nil)), &out))
	var said reply
	require.NoError(t, json.Unmarshal(out.Bytes(), &said))
	require.Empty(t, said.Error)
	require.Contains(t, said.Main, "Field Stock")
	require.Contains(t, said.Main, "The server had number 7.")

	out.Reset()
	require.NoError(t, run(t.Context(), []string{"-language", "de"}, bytes.NewReader(asked(t, nil)), &out))
	require.NoError(t, json.Unmarshal(out.Bytes(), &said))
	require.Contains(t, said.Main, "Der Server hatte Nummer 7.")
	require.Error(t, run(t.Context(), []string{"-language", "xx"}, bytes.NewReader(asked(t, nil)), &out))

	zone := 0
	form := &webui.KeptForm{Action: uuid.New(), Page: "booth", Act: "call", Values: "next=" + uuid.NewString(), At: time.Unix(0, 0)}
	require.NoError(t, json.Unmarshal(answer(t.Context(), asked(t, form), func(c *doc.ClassCopy) { zone = c.Offset }), &said))
	require.True(t, said.Refused, "a class without a draw calls nobody")
	require.Contains(t, said.Main, "The class is not drawn.")
	require.Equal(t, 3600, zone)
}

// What is still being typed is asked about without the page; what refuses it is the answer, and no error.
func TestAPreviewIsAnsweredWithoutThePage(t *testing.T) {
	form := &webui.KeptForm{Action: uuid.New(), Page: "booth", Act: "result", Values: "hook=" + uuid.NewString() + "&next=" + uuid.NewString() + "&result=281.36", At: time.Unix(0, 0)}
	var q question
	require.NoError(t, json.Unmarshal(asked(t, form), &q))
	q.Preview = true
	text, err := json.Marshal(q)
	require.NoError(t, err)
	var said reply
	require.NoError(t, json.Unmarshal(answer(t.Context(), text, func(*doc.ClassCopy) {}), &said))
	require.Empty(t, said.Error)
	require.Empty(t, said.Main)
	require.NotNil(t, said.Preview)
	require.NotEmpty(t, said.Preview.Wrong, "a class without a draw has no such hook")
}

func TestWhatIsNoQuestionIsAnError(t *testing.T) {
	for _, text := range []string{"", "[]", `{"Page":"booth"}`, `{"Page":"booth","Copy":{}}`} {
		var said reply
		require.NoError(t, json.Unmarshal(answer(t.Context(), []byte(text), func(*doc.ClassCopy) {}), &said))
		require.NotEmpty(t, said.Error, "%s", text)
	}
	require.Error(t, run(t.Context(), []string{"-nothing"}, strings.NewReader(""), io.Discard))
}
