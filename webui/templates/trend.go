package templates

// Trend is what the staff read of distances and hook order, once a round is over.
type Trend struct {
	Rounds  []Term // "Round 1" and a sentence with its uncertainty
	Caution string // what it is no reason for
}
