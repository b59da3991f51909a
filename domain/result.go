package domain

import (
	"fmt"
	"strings"
)

// Outcome says what came of a hook. The zero Outcome means that the hook has no result yet.
type Outcome uint8

// The outcomes of a hook. The first four count; the last two do not, and the entry may hook again in the round.
// The order of the constants says so, and [Result.Counts] relies on it.
const (
	// Measured: the sled stopped and the distance was read, 0 included. "Any attempt to move the sled is
	// considered measurable" (GSRT 12); other books want an inch (ASTTQ 2), and there the officials decide what
	// to store.
	Measured Outcome = iota + 1
	// FullPull: past the full-pull line, with or without a figure.
	FullPull
	// Disqualified: the hook counts, without a distance; a reason belongs to it. The books differ in what
	// disqualifies: out of bounds (UCTCC 17, AMPI 12), a lost part (HTP 4, UCTCC 16), a start under red
	// (BEAST).
	Disqualified
	// Absent: did not come to hook in time, or forfeited the turn (FLANT 12).
	Absent
	// Rehooked: does not count because of the sled or an official; another hook follows (RENEG 6, CHEL 7, GPP
	// 5).
	Rehooked
	// Void: does not count: stopped before the restart line, test hook given up, setting reset, call given up.
	Void
)

// outcomeWords are the words of a class sheet. "FP" and "DQ" were read on published results; the others are
// plain words, since no source was found for a mark.
var outcomeWords = map[Outcome]string{
	Measured: "measured", FullPull: "FP", Disqualified: "DQ", Absent: "absent", Rehooked: "rehook", Void: "void",
}

// String returns the word for the outcome on a class sheet: FP, DQ, absent, rehook, void; "measured" for a distance.
func (o Outcome) String() string { return outcomeWords[o] }

// MarshalText writes the sheet word.
func (o Outcome) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

// UnmarshalText reads the sheet word, exactly as written; empty text is the zero Outcome.
func (o *Outcome) UnmarshalText(text []byte) error {
	*o = 0
	for outcome, word := range outcomeWords {
		if word == string(text) {
			*o = outcome
		}
	}
	if *o == 0 && len(text) > 0 {
		return invalid("result", fmt.Sprintf("%q is not an outcome", text), "write measured, FP, DQ, absent, rehook or void")
	}
	return nil
}

// Result is what came of a hook: the outcome, the distance where one was read, and the reason where one is
// owed. The zero Result means "not hooked", or "on the track" in a hook that was called.
//
// A void or repeated hook keeps the distance it had: it counts for nothing, but who looks at the record sees
// what was given up. A full pull has a distance only where it was measured past the line.
type Result struct {
	Outcome  Outcome
	Distance Distance
	Reason   string
}

// expectedResult is what every refusal of a result says should have been written.
const expectedResult = "write a distance such as 281.36, FP, FP 312.44, DQ, rehook, absent or void"

// ParseResult reads a result as it stands on a class sheet: a distance, "FP", "FP 312.44", "DQ", "rehook",
// "absent" or "void", in any case. Words after DQ, rehook, absent and void are the reason; "DQ at 201.3 out of bounds"
// has the place as well, which counts where the rules say so. Figures are in the given unit. It knows no rules: whether a full pull may stand without a figure, or below the line, is for
// [RuleSet.Settle].
func ParseResult(s string, unit Unit) (Result, error) {
	word, rest, _ := strings.Cut(strings.TrimSpace(s), " ")
	if word == "" {
		return Result{}, invalid("result", "the result is missing", expectedResult)
	}
	rest = strings.TrimSpace(rest)
	for outcome, w := range outcomeWords {
		// "measured" is the word for a distance that stands without one; on a sheet nobody writes it.
		if outcome == Measured || !strings.EqualFold(w, word) {
			continue
		}
		if outcome == Disqualified {
			return parseDisqualified(rest, unit), nil
		}
		if outcome != FullPull {
			return Result{Outcome: outcome, Reason: rest}, nil
		}
		return parseFullPull(s, rest, unit)
	}
	distance, err := ParseDistance(s, unit)
	if err != nil {
		return Result{}, resultError(s, err)
	}
	return Result{Outcome: Measured, Distance: distance}, nil
}

// parseDisqualified reads what stands after DQ: the reason, or "at", the place where it happened, and the reason. Feet
// and inches are two words; where what follows "at" is no distance it belongs to the reason.
func parseDisqualified(rest string, unit Unit) Result {
	words := strings.Fields(rest)
	if len(words) > 1 && strings.EqualFold(words[0], "at") {
		for n := min(3, len(words)); n > 1; n-- {
			if d, err := ParseDistance(strings.Join(words[1:n], " "), unit); err == nil {
				return Result{Outcome: Disqualified, Distance: d, Reason: strings.Join(words[n:], " ")}
			}
		}
	}
	return Result{Outcome: Disqualified, Reason: rest}
}

// parseFullPull reads what stands after FP: nothing, or the figure past the line. s is the whole text, for the
// refusal.
func parseFullPull(s, figures string, unit Unit) (Result, error) {
	if figures == "" {
		return Result{Outcome: FullPull}, nil
	}
	distance, err := ParseDistance(figures, unit)
	if err != nil {
		return Result{}, resultError(s, err)
	}
	return Result{Outcome: FullPull, Distance: distance}, nil
}

// resultError refuses a text as a result and says what would be one.
func resultError(s string, cause error) error {
	return &Error{Kind: Invalid, Field: "result", Cause: cause,
		Message: fmt.Sprintf("%q is not a result", s), Fix: expectedResult}
}

// IsZero reports whether there is no result yet. A distance of 0 is a result.
func (r Result) IsZero() bool { return r.Outcome == 0 }

// Counts reports whether the result stands for the round: a distance, a full pull, a disqualification or an
// absence. An entry has at most one such result in a round; with it, its turn there is over.
func (r Result) Counts() bool { return r.Outcome >= Measured && r.Outcome <= Absent }

// Reached reports whether the result has a place of its own on the track: a distance or a full pull. The others
// that count have none, and rank by what they are.
func (r Result) Reached() bool { return r.Outcome == Measured || r.Outcome == FullPull }

// String writes the result as it stands on a class sheet, without the reason: "281.36", "FP", "FP 312.44",
// "DQ", "DQ at 201.3". The unit is the class's and is not repeated.
func (r Result) String() string {
	switch {
	case r.Outcome == Measured:
		return r.Distance.Figures()
	case r.Outcome == FullPull && !r.Distance.IsZero():
		return "FP " + r.Distance.Figures()
	case r.Outcome == Disqualified && !r.Distance.IsZero():
		return "DQ at " + r.Distance.Figures()
	default:
		return r.Outcome.String()
	}
}
