package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/pb33f/libopenapi/datamodel/high/base"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// wrong is one way in which a write can be wrong.
type wrong struct {
	what   string
	call   call
	status int
	field  string // "": any
}

// Every write is sent in every way that is wrong: a problem says so and names the field, nothing is stored, and the
// same write sent right is done.
func TestEveryWriteSentWrongStoresNothing(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	p.secrets[0] = ""
	all, other := p.secret("", domain.Desk), map[domain.Role]string{}
	for _, role := range []domain.Role{domain.Desk, domain.Booth, domain.Cab} {
		other[role] = p.secret(otherSlug, role)
	}
	done := writes(p)
	var described []string
	for route, id := range p.contract.operations() {
		// An estimate is computed and stores nothing: it is the one POST that is no write. See TestAnEstimateStoresNothing.
		if !strings.HasPrefix(route, http.MethodGet) && id != "estimateSled" {
			described = append(described, id)
		}
	}
	slices.Sort(described)
	require.Equal(t, described, slices.Sorted(maps.Keys(done)), "every write is here")
	for _, name := range slices.Sorted(maps.Keys(done)) {
		d := done[name]
		good := d.call(p, all)
		t.Run(name, func(t *testing.T) {
			q := *p
			q.t = t
			before := q.lines()
			for _, w := range q.wrongs(d, good, all, other[d.role]) {
				w.call.wrong = true
				r := q.ask(w.call)
				assert.Equal(t, w.status, r.status, "%s: %s", w.what, r.body)
				if w.field != "" {
					assert.Equal(t, w.field, r.at("field"), "%s: %s", w.what, r.body)
				}
				conforms(t, w.what, r)
			}
			require.Equal(t, before, q.lines(), "nothing was stored")
			q.ask(good).is(d.status)
			require.Equal(t, before+1, q.lines())
		})
	}
}

// conforms holds a problem against RFC 9457 and our own members.
func conforms(t testing.TB, what string, r reply) {
	t.Helper()
	require.Equal(t, "application/problem+json", r.header.Get("Content-Type"), "%s: %s", what, r.body)
	require.Equal(t, "no-store", r.header.Get("Cache-Control"), what)
	p := r.json()
	require.Equal(t, fmt.Sprint(r.status), fmt.Sprint(p["status"]), what)
	for _, member := range []string{"type", "title", "detail", "fix", "kept"} {
		text, _ := p[member].(string)
		require.NotEmpty(t, text, "%s: %s: %s", what, member, r.body)
	}
	require.True(t, strings.HasPrefix(r.at("type"), "/api/problems/"), what)
}

// wrongs lists the ways in which a write can be wrong.
func (p *programs) wrongs(d write, good call, all, foreign string) []wrong {
	p.t.Helper()
	var list []wrong
	add := func(what string, status int, field string, change func(*call)) {
		c := good
		change(&c)
		list = append(list, wrong{what, c, status, field})
	}
	add("no key", 400, "Idempotency-Key", func(c *call) { c.more = []string{"Idempotency-Key", ""} })
	add("a key that is no UUID", 400, "Idempotency-Key", func(c *call) { c.key = "once" })
	add("the nil key", 400, "Idempotency-Key", func(c *call) { c.key = uuid.Nil.String() })
	add("a body that says it is a form", 415, "Content-Type", func(c *call) { c.more = []string{"Content-Type", "application/x-www-form-urlencoded"}; c.body += " " })
	add("a body that says nothing", 415, "Content-Type", func(c *call) { c.more = []string{"Content-Type", ""}; c.body += " " })
	if d.role != 0 {
		add("no pass", 401, "Authorization", func(c *call) { c.as = "" })
		add("an invented pass", 401, "Authorization", func(c *call) { c.as = "uXf1V8s8oZt0rQyW2mJx4A5nB6kC7dEf" })
		add("a cookie", 401, "Authorization", func(c *call) { c.more, c.as = []string{"Cookie", "clayline_pass=" + c.as}, "" })
		if (d.role|d.also)&domain.Cab == 0 {
			add("the pass of the cab", 403, "", func(c *call) { c.as = p.secrets[domain.Cab] })
		}
		add("the pass of another event", 403, "", func(c *call) { c.as = foreign })
	}
	if (d.role == domain.Desk || d.role == domain.Cab) && d.also&domain.Booth == 0 {
		add("the pass of the booth", 403, "", func(c *call) { c.as = p.secrets[domain.Booth] })
	}
	if d.class {
		add("a version that is past", 412, "If-Match", func(c *call) { c.more = []string{"If-Match", `"1"`} })
		add("a version that is weak", 412, "If-Match", func(c *call) { c.more = []string{"If-Match", `W/"1"`} })
		add("a version that is none", 422, "If-Match", func(c *call) { c.more = []string{"If-Match", `"latest"`} })
		add("another class", 404, "", func(c *call) { c.path = strings.Replace(c.path, "/classes/", "/classes/no-", 1) })
		add("another event", 404, "", func(c *call) {
			c.path = strings.Replace(c.path, "/events/", "/events/no-", 1)
			c.as = all
		})
	}
	if d.kind != "" {
		wrongPhotos(good, add)
	} else {
		p.wrongDocuments(good, add)
	}
	return list
}

// wrongPhotos adds bodies that are no photo. A photo that is called another sort of picture is none of them.
func wrongPhotos(good call, add func(string, int, string, func(*call))) {
	add("too large", 413, "", func(c *call) { c.body += strings.Repeat("m", domain.MaxPhotoBytes) })
	add("a document", 415, "Content-Type", func(c *call) { c.kind = "application/json" })
	for what, body := range map[string]string{"JSON": `{"photo": "…"}`, "nothing": "", "a page": "<html><script>", "a part": good.body[:20]} {
		add(what, 422, "", func(c *call) { c.body = body })
	}
}

// wrongDocuments adds bodies that are no JSON, or not that of the write.
func (p *programs) wrongDocuments(good call, add func(string, int, string, func(*call))) {
	p.t.Helper()
	add("too large", 413, "", func(c *call) { c.body = `{"reason": "` + strings.Repeat("m", 64<<10) + `"}` })
	for what, body := range map[string]string{
		"no JSON": "reason=none", "JSON that ends": `{"reason":`, "a list": `[]`, "two objects": `{}{}`, "a name twice": `{"reason": "a", "reason": "b"}`, "no UTF-8": "{\"reason\": \"\xff\"}",
		"too deep": strings.Repeat(`{"a":`, 20) + "1" + strings.Repeat("}", 20), "null": "null",
	} {
		add(what, 400, "", func(c *call) { c.body = body })
	}
	request, err := http.NewRequest(good.method, p.address+good.path, http.NoBody)
	require.NoError(p.t, err)
	_, operation := p.contract.find(request)
	var value any
	require.NoError(p.t, json.Unmarshal([]byte(good.body), &value))
	schema := operation.RequestBody.Content.GetOrZero("application/json").Schema.Schema()
	for _, v := range variants(schema, value, "") {
		body, err := json.Marshal(v.value)
		require.NoError(p.t, err)
		add(v.what+" "+v.field, 422, v.field, func(c *call) { c.body = string(body) })
	}
}

// variant is a body in which one field is wrong.
type variant struct {
	what, field string
	value       any
}

// variants makes, of a body that is right, those in which one field is unknown, missing, of another type, empty, too long
// or in the unit of something else.
func variants(schema *base.Schema, value any, path string) []variant {
	object, ok := value.(map[string]any)
	if !ok {
		return nil
	}
	if schema.Properties == nil { // a reference with a description beside it
		schema = schema.AllOf[slices.IndexFunc(schema.AllOf, func(s *base.SchemaProxy) bool { return s.Schema().Properties != nil })].Schema()
	}
	in := func(field string) string { return strings.TrimPrefix(path+"."+field, ".") }
	with := func(field string, v any) map[string]any {
		changed := maps.Clone(object)
		changed[field] = v
		return changed
	}
	list := []variant{{"unknown", in("speling"), with("speling", "x")}, {"unknown by its case", in("Reason"), with("Reason", "x")}}
	for _, field := range schema.Required {
		changed := maps.Clone(object)
		delete(changed, field)
		list = append(list, variant{"missing", in(field), changed})
	}
	for _, field := range slices.Sorted(maps.Keys(object)) {
		part := schema.Properties.GetOrZero(field).Schema()
		if v, measured := object[field].(map[string]any); measured && v["unit"] != nil {
			changed := maps.Clone(v)
			changed["unit"] = map[any]string{"ft": "lb", "lb": "mph", "mph": "ft"}[v["unit"]]
			list = append(list, variant{"the unit of something else in", in(field + ".unit"), with(field, changed)})
		}
		for what, v := range badValues(part, object[field]) {
			list = append(list, variant{what, in(field), with(field, v)})
		}
		for _, v := range variants(part, object[field], in(field)) {
			list = append(list, variant{v.what, v.field, with(field, v.value)})
		}
		if items, ok := object[field].([]any); ok {
			for i := range items {
				for _, v := range variants(part.Items.A.Schema(), items[i], fmt.Sprintf("%s[%d]", in(field), i)) {
					changed := slices.Clone(items)
					changed[i] = v.value
					list = append(list, variant{v.what, v.field, with(field, changed)})
				}
			}
		}
	}
	return list
}

// badValues are what cannot stand in the place of a value.
func badValues(schema *base.Schema, value any) map[string]any {
	bad := map[string]any{"null in": nil, "a list in": []any{1}}
	switch value.(type) {
	case string:
		bad["a number in"], bad["a control character in"], bad["an escape in"], bad["a turn of direction in"] = 7, "a\u0000b", "a\u001b[31mb", "a\u202eb"
		if schema.MaxLength != nil {
			bad["too long"] = strings.Repeat("m", int(*schema.MaxLength)+1)
		}
		if schema.MinLength != nil {
			bad["nothing but spaces in"] = "  "
		}
		if schema.Format != "" || len(schema.Enum) > 0 || schema.Pattern != "" {
			bad["another word in"] = "soon"
		}
	case float64:
		bad["a text in"], bad["a fraction in"], bad["less than nothing in"], bad["far too much in"] = "7", 1.5, -1, 1e18
	case bool:
		bad["a text in"] = "true"
	default:
		bad["a text in"] = "x"
	}
	if _, list := value.([]any); list {
		delete(bad, "a list in")
		bad["an empty list in"] = []any{}
		many := slices.Repeat(value.([]any), 51)
		bad["too many in"] = many[:min(len(many), 1000)] // more would be too large as a body
	}
	return bad
}

// An id that is taken is refused wherever it is given, and another event's id is no way in.
func TestIdsThatAreTaken(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s, other := hooking(p.fair), testHook(p.fair)
	hook, next := s.class().Rounds[0].Hooks[0], s.class().OnTrack()
	for what, c := range map[string]struct {
		path, body, field string
		role              domain.Role
	}{
		"an entry's":      {entering(p.fair).api("/entries"), `{"id": "` + hook.Entry.String() + `", "number": "99", "puller": "Orla Penrose"}`, "id", domain.Desk},
		"a hook's":        {frozen(p.fair).api("/hooks"), `{"id": "` + hook.ID.String() + `"}`, "id", domain.Booth},
		"the next one's":  {s.hookPath("result"), `{"result": {"outcome": "absent"}, "next": "` + next.ID.String() + `"}`, "next", domain.Booth},
		"a round's":       {pullOffDue(p.fair).api("/rounds"), `{"id": "` + other.class().Rounds[0].ID.String() + `", "name": "P1"}`, "id", domain.Desk},
		"a first round's": {entering(p.fair).api("/draw"), `{"round": "` + other.class().Rounds[0].ID.String() + `", "seed": "dice"}`, "round", domain.Desk},
		"a class's": {"/api/v1/events/" + inventedSlug + "/classes", fmt.Sprintf(`{"id": "%s", "name": "One More", "session": "%s", "track": "%s", "sled": "%s", "rules": "capped-300ft"}`,
			s.class().ID, p.loader.event.Sessions[0].ID, p.loader.event.Tracks[0].ID, p.loader.event.Sleds[0].ID), "id", domain.Desk},
	} {
		before := p.lines()
		r := p.post(c.role, c.path, c.body)
		require.Equal(t, http.StatusUnprocessableEntity, r.status, "%s: %s", what, r.body)
		require.Equal(t, c.field, r.at("field"), what)
		require.Equal(t, before, p.lines(), what)
	}
}
