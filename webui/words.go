package webui

import (
	"fmt"
	"slices"
	"strings"

	"clayline/domain"
	"clayline/webui/templates"
)

// outcome shows a result that counts. A figure past the line is a remark: the full pull is what ranks. A reason is no remark yet,
// and is marked as typed where it is none of the causes that the program has words for.
func outcome(r domain.Result) templates.Outcome {
	typed := r.Reason
	if domain.CauseOf(r.Reason) != "" {
		typed = ""
	}
	switch r.Outcome {
	case domain.Measured:
		return templates.Outcome{Text: r.Distance.Figures(), Typed: typed}
	case domain.FullPull:
		o := templates.Outcome{Text: "Full pull", Kind: templates.FullPull, Typed: typed}
		if !r.Distance.IsZero() {
			o.Remarks = []string{"measured " + r.Distance.String()}
		}
		return o
	case domain.Disqualified:
		return templates.Outcome{Text: "DQ", Kind: templates.Disqualified, Typed: typed}
	default:
		return templates.Outcome{Text: "absent", Kind: templates.Absent, Typed: typed}
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

// namedDevice reports whether a measuring device goes by a name of its own, and not by the word for what it is.
func namedDevice(device string) bool {
	return !slices.Contains([]string{"laser", "tape", "counter wheel"}, strings.ToLower(strings.TrimSpace(device)))
}
