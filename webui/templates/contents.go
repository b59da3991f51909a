package templates

// Contents is a page that leads to others and has nothing else.
type Contents struct {
	Frame
	Title string
	Note  string // what the pages are
	Links []Link
}
