package api

import (
	"strings"

	"clayline/domain"
)

// readFlag reads what the flagmen decided of the hook of the address: {"call": "disqualified", "reason": "out of bounds"}.
// The last word stands, {} takes it back, and nothing follows from it by itself.
func readFlag(in *sent) deed {
	hook := in.param("hook")
	call, err := domain.ParseFlagCall(strings.ToLower(in.body.maybe("call")))
	in.body.keep("call", err)
	return deed{action: domain.SayFlag{Hook: hook, Call: call, Reason: in.body.maybe("reason")}, named: named{Hook: &hook}}
}
