//go:build !js

package static

import (
	"embed"
	"encoding/json"

	"clayline/webui/language"
)

//go:embed *.css css/*.css *.js keep/*.js *.svg *.wasm.gz vendor/*.js
var files embed.FS

// words are the files with what scripts say in each language beside English.
func words() map[string][]byte {
	made := map[string][]byte{}
	for _, l := range language.Others() {
		body, err := json.Marshal(l.Part(language.Scripts))
		if err != nil {
			panic(err) // strings can always be written
		}
		made[Words(l.Tag())] = body
	}
	return made
}
