package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"net/http"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/domain"
	"clayline/domain/desk"
)

// chainLine is a line of a journal as programs read it.
type chainLine struct {
	Number                                  int64
	Action, Pass, Device, At, Kind, Subject string
	Previous, Hash                          string
	Payload                                 json.RawMessage
}

// hashed is the hash of a line as docs/api.md describes it, and knows nothing of the program that made it.
func (l chainLine) hashed(t *testing.T) string {
	t.Helper()
	previous, err := hex.DecodeString(l.Previous)
	require.NoError(t, err)
	at, fraction, _ := strings.Cut(strings.TrimSuffix(l.At, "Z"), ".")
	at += "." + (fraction + "000000")[:6] + "Z"
	head := strings.Join([]string{fmt.Sprint(l.Number), l.Action, l.Pass, l.Device, at, l.Kind, l.Subject, ""}, "\n")
	sum := sha256.Sum256(append(append(previous, head...), l.Payload...))
	return hex.EncodeToString(sum[:])
}

// Anybody who may read a journal can check it with the description alone: every line is as it was hashed, and names the
// line before. A change of whatever part of a line shows.
func TestTheJournalIsCheckedFromTheDescriptionAlone(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	_, link, err := p.desk.IssuePass(p.ctx, desk.Program(), inventedSlug, uuid.New(), domain.Booth)
	require.NoError(t, err)
	_, _, err = p.desk.Enter(p.ctx, uuid.New(), link, `Jörg's "Kiste" <2> & \ more`, desk.Client)
	require.NoError(t, err)
	pullOff(p.fair).pull("312.44")
	answer := p.ask(call{method: http.MethodGet, path: "/api/v1/events/" + inventedSlug + "/journal?limit=200", as: p.secrets[domain.Desk]}).is(http.StatusOK)
	var journal struct{ Lines []chainLine }
	require.NoError(t, json.Unmarshal([]byte(answer.body), &journal))
	require.Greater(t, len(journal.Lines), 15)
	previous, devices := "", 0
	for i, l := range journal.Lines {
		require.Equal(t, int64(i+1), l.Number)
		require.Equal(t, previous, l.Previous, "line %d", l.Number)
		require.Equal(t, l.hashed(t), l.Hash, "line %d: %s", l.Number, l.Payload)
		if strings.Contains(l.Device, "Jörg") {
			devices++
		}
		previous = l.Hash
	}
	require.Positive(t, devices, "a name with every sort of sign is in it")
	last := journal.Lines[len(journal.Lines)-1]
	for what, change := range map[string]func(*chainLine){
		"number": func(l *chainLine) { l.Number++ }, "action": func(l *chainLine) { l.Action = uuid.NewString() }, "pass": func(l *chainLine) { l.Pass = uuid.NewString() },
		"device": func(l *chainLine) { l.Device += "x" }, "at": func(l *chainLine) { l.At = "2026-01-02T03:04:05.6Z" }, "kind": func(l *chainLine) { l.Kind = "void" },
		"subject": func(l *chainLine) { l.Subject = uuid.NewString() }, "previous": func(l *chainLine) { l.Previous = last.Hash },
		"payload": func(l *chainLine) { l.Payload = []byte(strings.Replace(string(l.Payload), "312.44", "312.45", 1)) },
	} {
		changed := last
		change(&changed)
		require.NotEqual(t, last.Hash, changed.hashed(t), what)
	}
}
