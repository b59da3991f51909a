package templates

// Problem is what went wrong, what was kept, and what to do now.
type Problem struct {
	Frame
	Status string // "404"; shown small
	Title  string // "There is no such class."
	Kept   string // "Nothing was changed."
	Do     string // "Look for the class in the programme."
	Back   Link
}
