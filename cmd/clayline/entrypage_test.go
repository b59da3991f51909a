package main

import (
	"net/http"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// An entry has a page of its own, from the entry to the points, and it is as small as a phone at the track needs it.
func TestAnEntryHasAPage(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s, anybody := entering(f), visitor{fair: f}
	page := anybody.get(s.path("entry/41"))
	require.Equal(t, http.StatusOK, page.status)
	assert.Contains(t, page.says(), "41 Maud Farrow")
	assert.Equal(t, http.StatusNotFound, anybody.get(s.path("entry/99")).status)
	assert.Equal(t, http.StatusNotFound, anybody.get(s.path("entry/7B")).status, "an address is in small letters, so that there is one")
	assert.Equal(t, http.StatusOK, anybody.get(s.path("entry/7b")).status)

	s = hooking(f)
	assert.Contains(t, anybody.get(s.path("entry/7")).says(), "place")
	won := signed(paying(f))
	page = anybody.get(won.path("entry/7"))
	assert.Contains(t, page.says(), "Round 1 place")
	assert.Contains(t, page.says(), "281.36")
	assert.Regexp(t, `Points: \d+`, page.says(), "points once the result is official")
	assert.Contains(t, page.body, `href="/p/Ellis%20Tarrant"`)
	packed := anybody.send(http.MethodGet, won.path("entry/7"), http.NoBody, "Accept-Encoding", "br")
	require.Equal(t, "br", packed.header.Get("Content-Encoding"))
	assert.Less(t, len(packed.body), firstFlight/4)
	won.do(domain.Reopen{Reason: "misread"})
	assert.NotContains(t, anybody.get(won.path("entry/7")).says(), "Points:")
}

// What somebody pulled at any event is on one page, made of what the entry lists show and of nothing else.
func TestAPullerHasAPageOverAllEvents(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	anybody := visitor{fair: f}
	assert.Equal(t, http.StatusNotFound, anybody.get("/p/Maud%20Farrow").status, "nobody is entered yet")
	first := signed(hooking(f))
	second := entering(f)
	page := anybody.get("/p/Maud%20Farrow")
	require.Equal(t, http.StatusOK, page.status)
	assert.Equal(t, "noindex", page.header.Get("X-Robots-Tag"))
	for _, s := range []*scene{first, second} {
		assert.Contains(t, page.body, `href="`+s.path("entry/41")+`"`)
	}
	assert.Contains(t, page.says(), "Two people of one name and home share this page")
	assert.NotContains(t, page.says(), "Jonas Weir", "nobody else is on it")
	second.do(domain.AddEntry{Entry: uuid.New(), Number: "88", Details: domain.Details{Puller: "Maud Farrow", Home: "Elsewhere"}})
	assert.NotContains(t, anybody.get("/p/Maud%20Farrow").says(), "88", "the home tells two people apart")
	assert.Contains(t, anybody.get("/p/Maud%20Farrow/Elsewhere").says(), "88")
	second.do(domain.AddEntry{Entry: uuid.New(), Number: "5/8", Details: domain.Details{Puller: "A/B"}})
	assert.Equal(t, http.StatusOK, anybody.get("/p/A%2FB").status)
	assert.Contains(t, anybody.get(second.path("entry/5%2F8")).says(), "A/B")
}

// What was pulled with a vehicle at any event is on one page, whoever drove it; its entries lead there.
func TestAVehicleHasAPageOverAllEvents(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	anybody := visitor{fair: f}
	assert.Equal(t, http.StatusNotFound, anybody.get("/v/Brindle%20Ox").status, "nothing is entered yet")
	first := signed(hooking(f))
	second := entering(f)
	second.do(domain.AddEntry{Entry: uuid.New(), Number: "42", Details: domain.Details{Puller: "Ida Brandt", Vehicle: "Brindle Ox"}})
	second.do(domain.AddEntry{Entry: uuid.New(), Number: "88", Details: domain.Details{Puller: "Pia Holm", Vehicle: "Brindle Ox", Home: "Elsewhere"}})
	require.Contains(t, anybody.get(first.path("entry/41")).body, `href="/v/Brindle%20Ox"`)
	page := anybody.get("/v/Brindle%20Ox")
	require.Equal(t, http.StatusOK, page.status)
	assert.Equal(t, "noindex", page.header.Get("X-Robots-Tag"))
	for _, href := range []string{first.path("entry/41"), second.path("entry/41"), second.path("entry/42")} {
		assert.Contains(t, page.body, `href="`+href+`"`)
	}
	assert.Contains(t, page.says(), "Ida Brandt", "whoever drove it")
	assert.Contains(t, page.says(), "Two vehicles of one name and home share this page")
	assert.NotContains(t, page.says(), "Late Hay", "no other vehicle is on it")
	assert.NotContains(t, page.says(), "Pia Holm", "the home tells two apart")
	assert.Contains(t, anybody.get("/v/Brindle%20Ox/Elsewhere").says(), "Pia Holm")
	assert.Equal(t, http.StatusNotFound, anybody.get("/v/brindle%20ox").status, "an address is written as the entry is")
}

// The page of a name is in the language of its reader, whoever read it first.
func TestThePageOfANameIsInItsReadersLanguage(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	entering(f)
	anybody := visitor{fair: f}
	for _, path := range []string{"/p/Maud%20Farrow", "/v/Brindle%20Ox"} {
		assert.Contains(t, anybody.get(path).body, `lang="en"`)
		assert.Contains(t, anybody.get("/de"+path).body, `lang="de"`)
		assert.Contains(t, anybody.get(path).body, `lang="en"`)
	}
}
