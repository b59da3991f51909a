// Package static holds the files that pages refer to and that never change
// under their address: the stylesheet and the favicon.
//
// An address carries the hash of the content, so that a handler may answer
// with "Cache-Control: public, max-age=31536000, immutable":
//
//	static.Href("clayline.css") // "/static/clayline.1f0c7b2a9d3e.css"
//	f, ok := static.Lookup("clayline.1f0c7b2a9d3e.css")
//
// The stylesheet is written by subject, in the folder css, and sent as one file: a phone with one bar then asks once. So is
// the script of the pages that go on without the server, in the folder keep; its parts share one module. For the same reason
// each script that says something to people carries say.js in front. What it says in another language is a file of its own for
// each language; a page that goes on without the server loads all that is said in its language instead, for the compiled
// program too.
package static

import (
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
)

// packed is how the name of a file ends that is kept packed: "booth.wasm.gz".
const packed = ".gz"

// Prefix is the path under which handlers serve the files.
const Prefix = "/static/"

// File is one file as it is sent.
type File struct {
	Name string // "clayline.css"
	Hash string // of the content, twelve hexadecimal digits
	Type string // for Content-Type
	// Coding is for Content-Encoding: "gzip" for a file that is kept packed, as its name ends in .gz; else "".
	Coding string
	Body   []byte
}

// sheet is the name of the stylesheet that is joined of the sheets.
const sheet = "clayline.css"

// sheets are the parts of the stylesheet in the order in which they are joined: what comes later wins, so that paper is last.
func sheets() []string {
	return []string{
		"css/ground.css", "css/pull.css", "css/rows.css", "css/forms.css", "css/booth.css", "css/lineup.css", "css/cab.css", "css/desk.css", "css/paper.css",
	}
}

// keeping are the parts of keep.js in the order in which they are joined: the last one begins.
func keeping() []string {
	return []string{"keep/store.js", "keep/send.js", "keep/tell.js", "keep/preview.js", "keep/begin.js"}
}

// telling are the scripts that say something to people.
func telling() []string {
	return []string{"awake.js", "keep.js", "live.js", "pits.js", "reminder.js", "typing.js"}
}

// Words is the name of the file with what scripts say in a language: "words.de.json".
func Words(tag string) string { return "words." + tag + ".json" }

// Catalogue is the name of the file with all that is said in a language, for pages that go on without the server:
// "catalogue.de.json.gz".
func Catalogue(tag string) string { return "catalogue." + tag + ".json" + packed }

// catalogue reads the embedded files once, when the first is asked for; they are few and stay in memory.
var catalogue = sync.OnceValue(read)

// Href is the address of the named file. A name that is not embedded is a
// mistake in the program, and Href panics.
func Href(name string) string {
	f, ok := catalogue()[name]
	if !ok {
		panic("static: no file " + name)
	}
	return Prefix + f.hashed()
}

// Lookup finds a file by the last part of its address, "clayline.1f0c7b2a9d3e.css".
// Any other hash is not found: a stale address must not be cached with new content.
func Lookup(hashed string) (File, bool) {
	ext := path.Ext(hashed)
	stem := strings.TrimSuffix(hashed, ext)
	name := strings.TrimSuffix(stem, path.Ext(stem)) + ext
	f, ok := catalogue()[name]
	if !ok || f.hashed() != hashed {
		return File{}, false
	}
	return f, true
}

// hashed is the name with the hash before the extension.
func (f File) hashed() string {
	ext := path.Ext(f.Name)
	return strings.TrimSuffix(f.Name, ext) + "." + f.Hash + ext
}

// read is every embedded file by name.
func read() map[string]File {
	found := map[string]File{}
	err := fs.WalkDir(files, ".", func(where string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case where == "css" || where == "keep":
			return fs.SkipDir
		case e.IsDir():
			return nil
		}
		body, err := files.ReadFile(where)
		found[e.Name()] = fileOf(e.Name(), body)
		return err
	})
	if err != nil {
		panic(err) // the embedded files are always there
	}
	found[sheet] = fileOf(sheet, joined(sheets()))
	found["keep.js"] = fileOf("keep.js", joined(keeping()))
	for _, name := range telling() {
		found[name] = fileOf(name, slices.Concat(found["say.js"].Body, found[name].Body))
	}
	for name, body := range words() {
		found[name] = fileOf(name, body)
	}
	return found
}

// joined is what is written in parts, one after another.
func joined(parts []string) (whole []byte) {
	for _, name := range parts {
		body, err := files.ReadFile(name)
		if err != nil {
			panic(err) // as above
		}
		whole = append(whole, body...)
	}
	return whole
}

// fileOf is a file as it is sent.
func fileOf(name string, body []byte) File {
	sum := sha256.Sum256(body)
	file := File{Name: name, Hash: hex.EncodeToString(sum[:6]), Type: contentType(strings.TrimSuffix(name, packed)), Body: body}
	if strings.HasSuffix(name, packed) {
		file.Coding = "gzip"
	}
	return file
}

// contentType is by extension: the system's own table may differ or be empty.
func contentType(name string) string {
	switch path.Ext(name) {
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".wasm":
		return "application/wasm"
	case ".json":
		return "application/json"
	case ".svg":
		return "image/svg+xml"
	default:
		return "application/octet-stream"
	}
}
