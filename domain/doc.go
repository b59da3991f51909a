// Package domain holds what is true about a pull, whoever asks: values, rules and decisions.
//
// # The model
//
// An [Event] has tracks, sleds and sessions. A [Class] is pulled on one track with one sled under one [RuleSet].
// It is a list of rounds: class rounds ("1", "2", …) and, where the rules bring the full pullers back, pull-offs
// ("P1", "P2", …). Each [Round] has a line-up, setting revisions and hooks. A [Hook] is one vehicle's run at the sled
// against one setting revision; its [Result] is what came of it. The standing is computed from the results by
// [Rank] and never stored.
//
// Everything that happens to a class is an [Action]. [Decide] takes the class as it is, an action and the time, and
// returns the class as it is afterwards or an [Error] that says what to do. Ids and times are arguments; nothing here
// reads a clock, a database or a random source. Folding the actions of the journal over the zero Class gives the
// stored class back.
//
// # A small class, worked
//
// Three vehicles under a 300 ft capped set: 41 goes 281.36 ft as the test puller and keeps it, 7 makes a full pull
// and 23 makes one too. Nobody is on the track, no choice is open and the line-up is done, so [Class.Phase] says that
// a pull-off is due for 7 and 23. It gets a round P1 with a setting of its own; 7 goes 312.44 ft, 23 goes 305.1 ft.
// Rank then gives 7, 23, 41.
package domain
