//go:build !js

package static

import "embed"

//go:embed *.css css/*.css *.js *.svg *.wasm.gz vendor/*.js
var files embed.FS
