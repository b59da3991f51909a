package static

import "embed"

// files is empty in the booth's module, which draws what is within a page and none of what the page refers to. It could not
// hold itself.
var files embed.FS

// words are none, as above.
func words() map[string][]byte { return nil }
