package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/pb33f/libopenapi"
	validator "github.com/pb33f/libopenapi-validator"
	"github.com/pb33f/libopenapi-validator/errors"
	"github.com/pb33f/libopenapi-validator/schema_validation"
	v3 "github.com/pb33f/libopenapi/datamodel/high/v3"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/api"
)

// contract is the description of the interface, against which every request and answer of the tests is held.
type contract struct {
	mu    sync.Mutex
	check validator.Validator
	model *v3.Document
	used  map[string]bool // operations that were exercised
}

// newContract reads the description. Each test that counts operations has one of its own.
func newContract(t testing.TB) *contract {
	t.Helper()
	document, err := libopenapi.NewDocument(api.OpenAPI)
	require.NoError(t, err)
	model, err := document.BuildV3Model()
	require.NoError(t, err)
	check, errs := validator.NewValidator(document)
	require.Empty(t, errs)
	return &contract{check: check, model: &model.Model, used: map[string]bool{}}
}

// theContract is the one that tests share which do not count.
var theContract = sync.OnceValue(func() *contract { return newContract(panicking{}) })

// panicking is what a test is where there is none.
type panicking struct{ testing.TB }

func (panicking) Helper()                   {}
func (panicking) Errorf(f string, a ...any) { panic(fmt.Sprintf(f, a...)) }
func (panicking) FailNow()                  { panic("the description cannot be read") }

// holds holds a request and its answer against the description. A request that is meant to be wrong is not held.
func (c *contract) holds(t testing.TB, request *http.Request, sent []byte, wrong bool, response *http.Response, body []byte) {
	t.Helper()
	c.mu.Lock()
	defer c.mu.Unlock()
	path, operation := c.find(request)
	require.NotNil(t, operation, "%s %s is not described", request.Method, request.URL.Path)
	c.used[operation.OperationId] = true
	if !wrong {
		_, faults := c.check.ValidateHttpRequestSync(again(request, sent))
		require.Empty(t, told(faults), "request %s %s %s", request.Method, request.URL.Path, sent)
	}
	described := operation.Responses.Codes.GetOrZero(fmt.Sprint(response.StatusCode))
	require.NotNil(t, described, "%s %s answers %d, which is not described: %s", request.Method, path, response.StatusCode, body)
	for name := range described.Headers.KeysFromOldest() {
		require.NotEmpty(t, response.Header.Get(name), "%s %s: header %s", request.Method, path, name)
	}
	if described.Content == nil {
		require.Empty(t, body)
		return
	}
	kind, _, _ := strings.Cut(response.Header.Get("Content-Type"), ";")
	require.NotNil(t, described.Content.GetOrZero(kind), "%s %s answers %s", request.Method, path, kind)
	copied := *response
	copied.Body = io.NopCloser(bytes.NewReader(body))
	_, faults := c.check.ValidateHttpResponse(again(request, sent), &copied)
	require.Empty(t, told(faults), "answer to %s %s: %s", request.Method, request.URL.Path, body)
}

// again is the request as it was sent, with its body to be read once more.
func again(request *http.Request, sent []byte) *http.Request {
	copied := request.Clone(request.Context())
	copied.Body = io.NopCloser(bytes.NewReader(sent))
	return copied
}

// told are the faults in words.
func told(faults []*errors.ValidationError) []string {
	var list []string
	for _, f := range faults {
		words := f.Message + ": " + f.Reason
		for _, s := range f.SchemaValidationErrors {
			words += "; " + s.Reason + " at " + s.KeywordLocation
		}
		list = append(list, words)
	}
	return list
}

// find finds the operation of a request: the path of as many parts in which each is the same or a parameter. Where two
// fit, the one with fewer parameters is meant.
func (c *contract) find(request *http.Request) (path string, operation *v3.Operation) {
	parts := strings.Split(request.URL.Path, "/")
	best := len(parts) + 1
	for described, item := range c.model.Paths.PathItems.FromOldest() {
		op := item.GetOperations().GetOrZero(strings.ToLower(request.Method))
		parameters := fits(parts, strings.Split(described, "/"))
		if op != nil && parameters >= 0 && parameters < best {
			best, path, operation = parameters, described, op
		}
	}
	return path, operation
}

// fits counts the parameters of a described path that an address fits, -1 when it does not.
func fits(parts, described []string) (parameters int) {
	if len(parts) != len(described) {
		return -1
	}
	for i, d := range described {
		switch {
		case strings.HasPrefix(d, "{"):
			parameters++
		case d != parts[i]:
			return -1
		}
	}
	return parameters
}

// operations lists what is described: "GET /api/v1/events", with the names of the operations.
func (c *contract) operations() map[string]string {
	list := map[string]string{}
	for path, item := range c.model.Paths.PathItems.FromOldest() {
		for method, operation := range item.GetOperations().FromOldest() {
			list[strings.ToUpper(method)+" "+path] = operation.OperationId
		}
	}
	return list
}

func TestTheDescriptionIsOpenAPI(t *testing.T) {
	t.Parallel()
	c := newContract(t)
	ok, faults := c.check.ValidateDocument()
	require.True(t, ok, told(faults))
	require.Equal(t, "3.1.0", c.model.Version)
}

func TestWhatIsServedIsDescribedAndTheOtherWayRound(t *testing.T) {
	t.Parallel()
	var served []string
	for _, route := range new(api.Server).Routes() {
		if strings.Contains(route, " /api/v1/") {
			served = append(served, route)
		}
	}
	slices.Sort(served)
	require.Equal(t, slices.Sorted(maps.Keys(newContract(t).operations())), served)
}

// Every operation says what it does, and shows a request and an answer; the examples are what their schemas say.
func TestEveryOperationIsExplainedAndShown(t *testing.T) {
	t.Parallel()
	c := newContract(t)
	ids := map[string]bool{}
	shown := 0
	for path, item := range c.model.Paths.PathItems.FromOldest() {
		for method, op := range item.GetOperations().FromOldest() {
			where := method + " " + path
			require.NotEmpty(t, op.OperationId, where)
			require.False(t, ids[op.OperationId], where)
			ids[op.OperationId] = true
			assert.NotEmpty(t, op.Summary, where)
			assert.NotEmpty(t, op.Tags, where)
			assert.NotNil(t, op.Security, where)
			if op.RequestBody != nil {
				for kind, media := range op.RequestBody.Content.FromOldest() {
					shown += c.shows(t, where+" request "+kind, kind, media)
				}
			}
			for code, r := range op.Responses.Codes.FromOldest() {
				assert.NotEmpty(t, r.Description, where)
				for kind, media := range r.Content.FromOldest() {
					shown += c.shows(t, where+" "+code+" "+kind, kind, media)
				}
			}
		}
	}
	require.Greater(t, shown, 200)
}

// shows holds the examples of a media type against its schema and returns how many there are. A picture has neither.
func (c *contract) shows(t *testing.T, where, kind string, media *v3.MediaType) (shown int) {
	t.Helper()
	require.NotNil(t, media, where)
	if strings.HasPrefix(kind, "image/") {
		return 0
	}
	schema := media.Schema.Schema()
	check := func(example interface{ Decode(any) error }) {
		var value any
		require.NoError(t, example.Decode(&value), where)
		document, err := json.Marshal(value)
		require.NoError(t, err)
		_, faults := schema_validation.NewSchemaValidator().ValidateSchemaString(schema, string(document))
		assert.Empty(t, told(faults), where)
		shown++
	}
	if media.Example != nil {
		check(media.Example)
	}
	for _, example := range media.Examples.FromOldest() {
		check(example.Value)
	}
	assert.Positive(t, shown, where)
	return shown
}
