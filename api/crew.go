package api

import (
	"strings"

	"clayline/domain"
)

// readReady reads what the sled's crew says before the hook of the address: {"held": true, "words": "cable frayed"}, or
// {} for ready. It gives no go, and nothing waits for it.
func readReady(in *sent) deed {
	hook := in.param("hook")
	return deed{action: domain.SayReady{Hook: hook, Held: in.body.truth("held"), Words: in.body.maybe("words")}, named: named{Hook: &hook}}
}

// readDifference reads what differed on the hook of the address: {"what": "hand drop, kill switch", "words": "pan hung"}.
// The last note stands; {} takes it back.
func readDifference(in *sent) deed {
	hook := in.param("hook")
	what, err := domain.ParseDifferences(strings.ToLower(in.body.maybe("what")))
	in.body.keep("what", err)
	return deed{action: domain.NoteDifference{Hook: hook, What: what, Words: in.body.maybe("words")}, named: named{Hook: &hook}}
}
