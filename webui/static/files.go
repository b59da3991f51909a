//go:build !js

package static

import (
	"bytes"
	"compress/gzip"
	"embed"
	"encoding/json"
	"errors"

	"clayline/webui/language"
)

//go:embed *.css css/*.css *.js keep/*.js *.svg *.wasm.gz vendor/*.js
var files embed.FS

// words are the files with what is said in each language beside English: what scripts say, and all of it, packed.
func words() map[string][]byte {
	made := map[string][]byte{}
	for _, l := range language.Others() {
		said, err := json.Marshal(l.Part(language.Scripts))
		all, other := l.Catalogue()
		small, third := pack(all)
		if err := errors.Join(err, other, third); err != nil {
			panic(err) // strings can always be written, and packed into memory
		}
		made[Words(l.Tag())], made[Catalogue(l.Tag())] = said, small
	}
	return made
}

// pack packs a file with gzip, which every browser unpacks by itself.
func pack(body []byte) ([]byte, error) {
	var small bytes.Buffer
	writer, err := gzip.NewWriterLevel(&small, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	_, err = writer.Write(body)
	err = errors.Join(err, writer.Close())
	return small.Bytes(), err
}
