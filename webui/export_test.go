package webui

import (
	"encoding/json"
	"log/slog"
	"mime"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain/doc"
)

// Names of events and classes may have letters of any language, and a header is ASCII.
func TestAFileIsNamedAfterItsClass(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "attachment; filename=harvest-pull-8200-lb-result.csv", csvExport.disposition("harvest-pull-8200-lb-result"))
	for _, name := range []string{"harvest-pull-results", "trecker-treck-fünfstädtle-3,5-t-result", "牽引-result", `a"b; c\d`, ""} {
		header := jsonExport.disposition(name)
		assert.Regexp(t, "^[ -~]+$", header)
		how, parameters, err := mime.ParseMediaType(header)
		require.NoError(t, err)
		assert.Equal(t, "inline", how)
		assert.Equal(t, name+".json", parameters["filename"])
	}
}

func TestTheSchemaIsServedWhereResultsSayThatItIs(t *testing.T) {
	t.Parallel()
	answer := httptest.NewRecorder()
	site := New(nil, func() time.Time { return time.Time{} }, slog.New(slog.DiscardHandler))
	site.Handler().ServeHTTP(answer, httptest.NewRequest(http.MethodGet, doc.ResultSchemaPath, http.NoBody))
	assert.Equal(t, http.StatusOK, answer.Code)
	assert.Equal(t, "application/schema+json", answer.Header().Get("Content-Type"))
	assert.True(t, json.Valid(answer.Body.Bytes()))
	assert.Equal(t, doc.ResultSchema(), answer.Body.String())
}
