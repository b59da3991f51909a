package templates

// Announcer is the card of whoever speaks beside the track: who hooks now or next, what it takes to lead, and what the
// same puller did at this place before. There is nothing to press on it, and it shows nothing that the public pages do
// not.
type Announcer struct {
	Frame
	Hooking
	Class    string // "8,200 lb Field Stock"
	Sentence string // "On the track · Round 1 · puller 9 of 14"
	// Who is the puller that the card is about; Quiet is set instead where there is none.
	Who   Puller
	Quiet *Quiet
	// Lead says what it takes to lead, Full what a full pull means now; each a sentence.
	Lead, Full string
	// Pulls are what was pulled here before, the newest first; Found says how they were found.
	Pulls []EarlierPull
	Found string
	Links []Link
}

// EarlierPull is one hook of the same puller.
type EarlierPull struct {
	Outcome
	When    string // "today", "20 September 2025"
	Class   Link
	Where   string // "Round 1 · sled Plumb Bob"
	Vehicle string
}
