package webui

import (
	"fmt"
	"strings"

	"clayline/domain"
	"clayline/webui/templates"
)

// outcome shows a result that counts. A figure past the line is a remark: the full pull is what ranks.
func outcome(r domain.Result) templates.Outcome {
	switch r.Outcome {
	case domain.Measured:
		return templates.Outcome{Text: r.Distance.Figures()}
	case domain.FullPull:
		o := templates.Outcome{Text: "Full pull", Kind: templates.FullPull}
		if !r.Distance.IsZero() {
			o.Remarks = []string{"measured " + r.Distance.String()}
		}
		return o
	case domain.Disqualified:
		return templates.Outcome{Text: "DQ", Kind: templates.Disqualified}
	default:
		return templates.Outcome{Text: "absent", Kind: templates.Absent}
	}
}

// voidWords tells a hook that does not count, with what was measured: "test hook given up (281.36 ft)".
func voidWords(h domain.Hook) string {
	if h.Result.Distance.IsZero() {
		return h.Result.Reason
	}
	return h.Result.Reason + " (" + h.Result.Distance.String() + ")"
}

// named writes an entry in a list: "41 Maud Farrow".
func named(e domain.Entry) string { return strings.TrimSpace(e.Number + " " + e.Details.Puller) }

// counted says how many there are of something: "1 hook", "3 hooks".
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// joined puts a reason behind what was done, where there is one.
func joined(what, reason string) string {
	if reason == "" {
		return what
	}
	return what + ": " + reason
}

// sentence makes a message of the domain a sentence: a capital letter in front and a full stop behind.
func sentence(s string) string {
	if s == "" {
		return ""
	}
	return firstUpper(s) + "."
}
