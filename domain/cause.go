package domain

import (
	"slices"
	"strings"
)

// Cause is what went wrong in a hook, as far as rule books name it; a rule set says what follows from each. It is
// the phrase that begins the reason of a result, so that what people read and what the rules read are the same text
// and no second field can contradict it:
//
//	out of bounds: left rear wheel   is CauseOutOfBounds
//	OUT OF BOUNDS                    is CauseOutOfBounds
//	drove over the line              is no cause: the rules say nothing of it, and the hook has no distance
type Cause string

// The causes that published rule books give a consequence of their own.
const (
	// CauseOutOfBounds: the vehicle touched or crossed the side line (UCTCC 17, AMPI 12, RENEG 7, MERR 16).
	CauseOutOfBounds Cause = "out of bounds"
	// CauseSledOutOfBounds: the sled did, which some books count (CHEL 9, HTP 5) and others not (RENEG 7).
	CauseSledOutOfBounds Cause = "sled out of bounds"
	// CauseLostPart: something fell off while hooked (HTP 4, UCTCC 16, MERR 9).
	CauseLostPart Cause = "lost part"
	// CauseBreakage: something broke in plain sight, which some books do not hold against the puller (NL-VP, MAM).
	CauseBreakage Cause = "breakage"
	// CauseFluid: a stream of fluid or an oil spill (NL-VP, RUSSELL).
	CauseFluid Cause = "fluid"
	// CauseFrontEnd: the front wheels rose higher than allowed (SEMP, NCI, MERR 3, SWAT).
	CauseFrontEnd Cause = "front end"
	// CauseSpeed: over the limit of a speed-limited class (NATPA Div I, HARF).
	CauseSpeed Cause = "speed"
	// CauseRedFlag: did not stop under red (GREEN safety 8, NL-VP, NO 1.1).
	CauseRedFlag Cause = "red flag"
	// CauseEarlyStart: started under red or before the green flag (BEAST, SEMP 8, AMPI).
	CauseEarlyStart Cause = "early start"
	// CauseJerking: slack was made and the sled snatched (ASTTQ 4, GSRT 11, NL-VP).
	CauseJerking Cause = "jerking"
	// CauseNotReady: not hooked in the time that the rules give (CHEL 8, AMPI 7, NL-POEL).
	CauseNotReady Cause = "not ready"
	// CauseOverweight: over the limit and the tolerance on the scale (CHEL 11).
	CauseOverweight Cause = "overweight"
	// CauseIllegal: the vehicle is not what the class allows (FTG, HTP protest 8, GREEN).
	CauseIllegal Cause = "illegal vehicle"
	// CauseConduct: arguing, coaching on the track, leaving the seat (CME 1, GREEN safety 4, WOLV 2).
	CauseConduct Cause = "conduct"
)

// Causes lists the causes in the order in which people are offered them: what happens on the track first.
func Causes() []Cause {
	return []Cause{
		CauseOutOfBounds, CauseSledOutOfBounds, CauseLostPart, CauseBreakage, CauseFluid, CauseFrontEnd, CauseSpeed,
		CauseRedFlag, CauseEarlyStart, CauseJerking, CauseNotReady, CauseOverweight, CauseIllegal, CauseConduct,
	}
}

// CauseOf returns the cause that a reason begins with, in any case, alone or followed by a colon and more words; ""
// where the reason begins with none.
func CauseOf(reason string) Cause {
	phrase, _, _ := strings.Cut(reason, ":")
	phrase = strings.Join(strings.Fields(phrase), " ")
	i := slices.IndexFunc(Causes(), func(c Cause) bool { return strings.EqualFold(string(c), phrase) })
	if i < 0 {
		return ""
	}
	return Causes()[i]
}
