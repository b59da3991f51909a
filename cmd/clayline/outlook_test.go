package main

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// likely is when a class likely begins, as its page says.
var likely = regexp.MustCompile(`Likely begins about \d\d:\d\d–\d\d:\d\d`)

// Two classes on one track. What is stored in the first moves the times of those who wait for the second, with the same
// journal line: on its page, for its entries, and in the pits.
func TestAHookMovesTheTimesOfTheNextClass(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	first, second := hooking(f), drawn(f)
	public := visitor{fair: f}
	number := second.class().Entry(second.class().Draw.Order[2]).Number
	pages := []string{second.path(""), second.path("entry/" + number), "/e/" + inventedSlug + "/pits"}
	read := func() (told []string) {
		for _, page := range pages {
			a := public.get(page)
			require.Equal(t, 200, a.status)
			require.Contains(t, a.body, `data-stream="/api/v1/events/`+inventedSlug+`/stream"`, "it follows the others too: %s", page)
			says := likely.FindString(a.says())
			require.NotEmpty(t, says, a.says())
			told = append(told, says, a.header.Get("ETag"))
		}
		return told
	}
	before, was := read(), f.lines()
	first.pull("281.36")
	after := read()
	for i := range before {
		require.NotEqual(t, before[i], after[i])
	}
	require.Equal(t, was+1, f.lines())
	require.Equal(t, after, read(), "until something is stored, it stays")
}
