//go:build !js

package language

import (
	"embed"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"
)

//go:embed de/*.yaml
var catalogues embed.FS

// Scripts is the part of a catalogue that the scripts of pages say: they get it alone, since a phone with one bar has no
// room for the rest.
const Scripts = "script.yaml"

// german is read once, when it is first asked for.
var german = sync.OnceValue(func() *Language {
	l, err := Read("de", "Deutsch", germanRules(), catalogues, "de")
	if err != nil {
		panic("the German catalogue is part of the program and cannot be read: " + err.Error())
	}
	return l
})

// German is German as it is spoken at pulls.
func German() *Language { return german() }

// Others are the languages beside English.
func Others() []*Language { return []*Language{German()} }

// Find returns the language with the tag; false for English and for one that there is not.
func Find(tag string) (*Language, bool) {
	for _, l := range Others() {
		if l.tag == tag {
			return l, true
		}
	}
	return nil, false
}

// Part is one file of a language's catalogue, English sentences and what they are in the language; empty where there is
// none of that name.
func (l *Language) Part(file string) map[string]string {
	said, err := read(catalogues, l.tag+"/"+file)
	if err != nil {
		return nil
	}
	return said
}

// Read reads a catalogue from the YAML files in a folder, each a mapping of English sentences to those of the language. It
// refuses what [New] does, and a sentence that stands in two files.
func Read(tag, name string, rules Rules, files fs.FS, folder string) (*Language, error) {
	names, err := fs.Glob(files, folder+"/*.yaml")
	if err != nil {
		return nil, err
	}
	all, from := map[string]string{}, map[string]string{}
	for _, file := range names {
		said, err := read(files, file)
		if err != nil {
			return nil, err
		}
		for _, english := range slices.Sorted(maps.Keys(said)) {
			if other, twice := from[english]; twice {
				return nil, fmt.Errorf("%s: %q stands in %s too", file, english, other)
			}
			all[english], from[english] = said[english], file
		}
	}
	return New(tag, name, rules, all)
}

// read reads one file of a catalogue.
func read(files fs.FS, file string) (said map[string]string, err error) {
	text, err := fs.ReadFile(files, file)
	if err == nil {
		err = yaml.Unmarshal(text, &said)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	return said, nil
}

// Cut takes the language from an address as [Language.Href] makes it, and returns the address without it; the nil
// Language, which is English, and the address as it is where it names none.
func Cut(address string) (*Language, string) {
	for _, l := range Others() {
		if rest, ok := strings.CutPrefix(address, "/"+l.tag); ok && (rest == "" || rest[0] == '/') {
			if rest == "" {
				rest = "/"
			}
			return l, rest
		}
	}
	return nil, address
}
