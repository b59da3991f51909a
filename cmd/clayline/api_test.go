package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"clayline/api"
	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui"
)

// programs is the fair as programs see it: the same database, served with pages and interface side by side.
type programs struct {
	*fair
	server   *api.Server
	http     *httptest.Server
	contract *contract
	secrets  map[domain.Role]string
}

func newPrograms(t testing.TB) *programs {
	t.Helper()
	p := &programs{fair: newFair(t), contract: theContract(), secrets: map[domain.Role]string{}}
	p.open(api.UsualPace())
	for _, role := range []domain.Role{domain.Desk, domain.Booth, domain.Cab} {
		p.secrets[role] = p.secret(inventedSlug, role)
	}
	return p
}

// open serves the desk of the fair.
func (p *programs) open(pace api.Pace) {
	p.t.Helper()
	failures := &failures{}
	log := slog.New(slog.NewTextHandler(failures, &slog.HandlerOptions{Level: slog.LevelError}))
	p.server = api.New(p.desk, clock, log, pace)
	server := httptest.NewServer(mount(webui.New(p.desk, clock, log), p.server))
	p.http, p.address = server, server.URL
	closing := p.server
	following, unfollow := context.WithCancel(context.Background())
	go follow(following, p.desk.Live(), p.store)
	p.t.Cleanup(func() {
		closing.Close()
		unfollow()
		server.Close()
		require.Empty(p.t, failures.text(), "nothing fails on the server")
	})
}

// secret is a pass for a program; the event "" is all of them.
func (p *programs) secret(event string, role domain.Role) string {
	p.t.Helper()
	_, link, err := p.desk.IssuePass(p.ctx, desk.Program(), event, uuid.New(), role)
	require.NoError(p.t, err)
	_, secret, err := p.desk.Enter(p.ctx, uuid.New(), link, "the "+role.String()+"'s program", desk.Client)
	require.NoError(p.t, err)
	return secret
}

// call is a request that a program makes.
type call struct {
	method string
	path   string
	body   string // "" for none
	kind   string // of the body; "" for JSON
	as     string // the secret of a pass
	key    string // Idempotency-Key; a new one where it is "" and the method writes
	wrong  bool   // it is meant not to be as described
	more   []string
}

// reply is what the program gets.
type reply struct {
	t      testing.TB
	status int
	header http.Header
	body   string
}

// ask makes a request and holds it and its answer against the description.
func (p *programs) ask(c call) reply {
	p.t.Helper()
	request, err := http.NewRequestWithContext(p.ctx, c.method, p.address+c.path, strings.NewReader(c.body))
	require.NoError(p.t, err)
	if c.body != "" || c.kind != "" {
		request.Header.Set("Content-Type", cmp.Or(c.kind, "application/json"))
	}
	if c.as != "" {
		request.Header.Set("Authorization", "Bearer "+c.as)
	}
	if c.key == "" {
		c.key = uuid.NewString()
	}
	if c.method != http.MethodGet {
		request.Header.Set("Idempotency-Key", c.key)
	}
	for i := 0; i < len(c.more); i += 2 {
		request.Header.Set(c.more[i], c.more[i+1])
		if c.more[i+1] == "" {
			request.Header.Del(c.more[i])
		}
	}
	response, err := direct().Do(request)
	require.NoError(p.t, err)
	defer response.Body.Close()
	read, err := io.ReadAll(response.Body)
	require.NoError(p.t, err)
	p.contract.holds(p.t, request, []byte(c.body), c.wrong, response, read)
	return reply{t: p.t, status: response.StatusCode, header: response.Header, body: string(read)}
}

// get reads a public document.
func (p *programs) get(path string) reply {
	p.t.Helper()
	return p.ask(call{method: http.MethodGet, path: path}).is(http.StatusOK)
}

// post writes as a role.
func (p *programs) post(role domain.Role, path, body string) reply {
	p.t.Helper()
	return p.ask(call{method: http.MethodPost, path: path, body: body, as: p.secrets[role]})
}

// is asks for a status.
func (r reply) is(status int) reply {
	r.t.Helper()
	require.Equal(r.t, status, r.status, r.body)
	return r
}

// json is the answer as a value.
func (r reply) json() map[string]any {
	r.t.Helper()
	var value map[string]any
	decoder := json.NewDecoder(bytes.NewBufferString(r.body))
	decoder.UseNumber()
	require.NoError(r.t, decoder.Decode(&value), r.body)
	return value
}

// at is what stands in the answer at a place such as "rounds.0.hooks.-1.id", as text; "" for nothing.
func (r reply) at(place string) string {
	r.t.Helper()
	value := any(r.json())
	for part := range strings.SplitSeq(place, ".") {
		switch v := value.(type) {
		case map[string]any:
			value = v[part]
		case []any:
			var i int
			_, err := fmt.Sscan(part, &i)
			require.NoError(r.t, err)
			if i < 0 {
				i += len(v)
			}
			if i < 0 || i >= len(v) {
				return ""
			}
			value = v[i]
		}
	}
	if value == nil {
		return ""
	}
	return fmt.Sprint(value)
}

// at is the address of something of the scene's class, for programs.
func (s *scene) api(more string) string {
	return "/api/v1/events/" + s.ref.Event + "/classes/" + s.ref.Class + more
}

// hookPath is the address of what is done to the hook on the track, else to the last one.
func (s *scene) hookPath(act string) string {
	s.t.Helper()
	class := s.class()
	hook := class.OnTrack()
	if r := class.Current(); hook == nil && r != nil && len(r.Hooks) > 0 {
		hook = &r.Hooks[len(r.Hooks)-1]
	}
	if hook == nil {
		return s.api("/hooks/" + uuid.NewString() + "/" + act)
	}
	return s.api("/hooks/" + hook.ID.String() + "/" + act)
}

// roundPath is the address of what is done to the current round.
func (s *scene) roundPath(act string) string {
	s.t.Helper()
	id := uuid.New()
	if r := s.class().Current(); r != nil {
		id = r.ID
	}
	return s.api("/rounds/" + id.String() + "/" + act)
}
