package doc

import (
	"fmt"
	"slices"
	"strings"

	"clayline/domain/sled"
)

// SledCautions are what has to stand wherever people see an estimate, in this order.
func SledCautions() []string {
	return []string{
		"Estimate only. The sled operator decides; local rules and officials come first.",
		"Every hook in a class must have the same settings. After any change follow your rules on re-pulls.",
		"Not for safety: never use it to judge whether the sled will stop a vehicle, for run-out, kill switches, loads on frame, chain or axle.",
		"Full pulls count as at least: how much more they had is unknown.",
		"Works best for small changes from a setup just used on this track, worst for short pulls, after watering, packing or a long break, " +
			"and for speed-limited classes.",
		"Strength is a mean pull worked out from distance with this sled's numbers: not a dynamometer reading, not comparable between sleds, " +
			"tracks or nights, never a result.",
		"Keep it off the public board: to the operator and officials only.",
	}
}

// warningsOf says where the model had to hold a load at nothing, because the ground cannot pull: one sentence for each
// support, sorted. It is never nil, so that it is written as a list.
func warningsOf(settings ...setting) []string {
	warnings := []string{}
	if slices.ContainsFunc(settings, func(s setting) bool { return s.curve.FrontLifts() }) {
		warnings = append(warnings, "the front support would lift from the pan; its load is held at 0")
	}
	if slices.ContainsFunc(settings, func(s setting) bool { return s.curve.AxleLifts() }) {
		warnings = append(warnings, "the axle lifts before any push-down; its load is held at 0")
	}
	slices.Sort(warnings)
	return warnings
}

// steep is the elasticity above which a stop hangs more on the track than on anything else.
const steep = 2 * (1 + 1e-9)

// advice says what to think of before a setting's figures are believed. Each sentence begins with the prefix, which names
// the setting where there are several. Elasticity at the line is for a setting that is looked at alone.
func (s setting) advice(prefix string, alone bool) []string {
	var list []string
	say := func(when bool, format string, values ...any) {
		if when {
			list = append(list, prefix+fmt.Sprintf(format, values...))
		}
	}
	g := s.ground
	say(g.MuDown < g.MuUp, "mu_down %v is less than mu_up %v: a dropped pan that drags less is unusual; check both.", g.MuDown, g.MuUp)
	say(g.CRR > g.MuUp, "c_rr %v is more than mu_up %v: wheels that drag more than the pan are unusual; check both.", g.CRR, g.MuUp)
	say(!s.curve.Monotone(), "mean drag falls somewhere: one pull can belong to several stops, and the first is taken.")
	if elasticity, ok := s.curve.Elasticity(s.line); alone && ok {
		say(elasticity > steep, "elasticity at the line is %.1f: one percent of friction moves a stop there by that many percent.", elasticity)
	}
	return list
}

// runAdvice says what to think of the results of a what-if.
func (j SledJob) runAdvice(rows []SledRow) []string {
	var full int
	var loose []string
	for i, r := range j.runs {
		if r.run.Full && rows[i].Bound == "lower" { // a known speed at the line tells more than the least
			full++
		}
		if p := rows[i].Predicted; p.Status == "stops" {
			if elasticity, ok := j.to.curve.Elasticity(*p.Distance * sled.Foot); ok && elasticity > steep {
				loose = append(loose, r.id)
			}
		}
	}
	var list []string
	if len(loose) > 0 {
		list = append(list, fmt.Sprintf("elasticity above 2 for %s: short pulls predict badly.", strings.Join(loose, ", ")))
	}
	if 2*full > len(j.runs) {
		list = append(list, fmt.Sprintf("%d of %d made a full pull: more than half of the class shows only the least it can do.", full, len(j.runs)))
	}
	if full > 0 && j.to.curve.Mean(j.to.line) > j.from.curve.Mean(j.from.line) {
		list = append(list, "a full pull takes more under setup_to than under setup: those who went full cannot be counted either way, and count as at most.")
	}
	return list
}
