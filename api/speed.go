package api

import "clayline/domain"

// speeds are what the device read of a hook; what it does not give is left out.
//
//	{"top": {"figures": "18.4", "unit": "mph"}, "at_line": {"figures": "17.9", "unit": "mph"}}
type speeds struct {
	Top    *measure `json:"top,omitempty"`
	AtLine *measure `json:"at_line,omitempty"`
}

// speedsOf writes a reading, nil for none.
func speedsOf(s domain.Speeds) *speeds {
	if s == (domain.Speeds{}) {
		return nil
	}
	return &speeds{Top: speedOf(s.Top), AtLine: speedOf(s.AtLine)}
}

// readSpeed reads what the device read of the hook of the address, of any round. The last reading stands; {} takes it back.
// It changes no result.
func readSpeed(in *sent) deed {
	hook := in.param("hook")
	action := domain.ReadSpeed{Hook: hook}
	if in.body.has("top") {
		action.Top = in.body.speed("top")
	}
	if in.body.has("at_line") {
		action.AtLine = in.body.speed("at_line")
	}
	return deed{action: action, named: named{Hook: &hook}, sure: in.body.truth("confirmed")}
}
