package api

import "clayline/domain"

// readReady reads what the sled's crew says before the hook of the address: {"held": true, "words": "cable frayed"}, or
// {} for ready. It gives no go, and nothing waits for it.
func readReady(in *sent) deed {
	hook := in.param("hook")
	return deed{action: domain.SayReady{Hook: hook, Held: in.body.truth("held"), Words: in.body.maybe("words")}, named: named{Hook: &hook}}
}
