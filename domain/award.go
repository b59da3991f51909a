package domain

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Award says what an entry gets when something happened to it, in place of the points of its place. The zero Award
// is that of a rule set without points.
type Award struct {
	kind   awardKind
	points int // for givesExactly alone
}

// awardKind tells the awards apart.
type awardKind uint8

const (
	givesPlace awardKind = iota + 1
	givesNothing
	givesAddOns
	givesShowUp
	givesHook
	givesLastPlace
	givesLowest
	givesExactly
)

// The awards; [ExactAward] is the other one.
var (
	// AwardPlace: as if nothing had happened: the points of the place, if there is one, and the add-ons.
	AwardPlace = Award{kind: givesPlace}
	// AwardNothing: no points at all, add-ons neither (AMPI for a disqualification).
	AwardNothing = Award{kind: givesNothing}
	// AwardAddOns: what was earned by coming and by hooking, without points of a place (NATPA, CITP, GREEN).
	AwardAddOns = Award{kind: givesAddOns}
	// AwardShowUp: the show-up points alone (GREEN).
	AwardShowUp = Award{kind: givesShowUp}
	// AwardHook: the hook points alone, if they were earned (CITP for a disqualification).
	AwardHook = Award{kind: givesHook}
	// AwardLastPlace: the points of the class's last place, counted as if everybody had placed, and the add-ons
	// (RENEG 8, SCW 8). In a class of ten it is those of place 10.
	AwardLastPlace = Award{kind: givesLastPlace}
	// AwardLowest: the fewest points of a place that anybody got in the class, and the add-ons ("lowest points
	// for that class of that day", RIVER). Where nobody placed it is the last place.
	AwardLowest = Award{kind: givesLowest}
)

// awardWords are the words of rule sets. A word, once published, keeps its meaning.
var awardWords = map[Award]string{
	AwardPlace: "place", AwardNothing: "nothing", AwardAddOns: "add_ons", AwardShowUp: "show_up", AwardHook: "hook",
	AwardLastPlace: "last_place", AwardLowest: "lowest",
}

// maxPoints bounds what a rule set can give at once; the most that was read is 118 (VTPA).
const maxPoints = 9999

// ExactAward returns the award of so many points and nothing else: 5 to everybody who was there (OMTPA), 25 for a
// disqualification (SCW).
func ExactAward(points int) Award { return Award{kind: givesExactly, points: points} }

// ParseAward reads a word of a rule set, such as "add_ons", or a whole number of points from 0 to 9999.
func ParseAward(s string) (Award, error) {
	for award, word := range awardWords {
		if s == word {
			return award, nil
		}
	}
	points, err := strconv.Atoi(s)
	if err != nil || !onlyDigits(s) || points > maxPoints {
		return Award{}, invalid("award", fmt.Sprintf("%q is not known", s),
			"write place, nothing, add_ons, show_up, hook, last_place, lowest or a number such as 25")
	}
	return ExactAward(points), nil
}

// String returns the word of rule sets or the number; "" for the zero Award.
func (a Award) String() string {
	if a.kind == givesExactly {
		return strconv.Itoa(a.points)
	}
	return awardWords[a]
}

// CauseAward says what a disqualification for one cause gives, where a book tells causes apart: off the track and on
// it (SCW), illegal and too fast (GREEN).
type CauseAward struct {
	Cause Cause
	Award Award
}

// ParseCauseAward reads "illegal vehicle: nothing": a cause of [Causes], a colon, an award.
func ParseCauseAward(s string) (CauseAward, error) {
	phrase, word, _ := strings.Cut(s, ": ")
	cause := Cause(phrase)
	if !slices.Contains(Causes(), cause) {
		names := make([]string, len(Causes()))
		for i, c := range Causes() {
			names[i] = string(c)
		}
		return CauseAward{}, invalid("cause", fmt.Sprintf("%q begins with no cause", s),
			"write a cause, a colon and what it gives, such as illegal vehicle: nothing; the causes are "+strings.Join(names, ", "))
	}
	award, err := ParseAward(word)
	return CauseAward{Cause: cause, Award: award}, err
}

// String writes the cause and the award as [ParseCauseAward] reads them.
func (c CauseAward) String() string { return string(c.Cause) + ": " + c.Award.String() }
