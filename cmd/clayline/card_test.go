package main

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"clayline/domain"
)

// The desk finds what was set earlier, fills it into the form, looks at it, writes it down, and freezes it itself.
func TestASettingIsCopiedFromAnEarlierClass(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	office, s := p.as(domain.Desk), drawn(p.fair)
	earlier := pullOffDue(p.fair) // on the same track and sled
	lines := p.lines()

	none := office.get(s.path("earlier"))
	require.Contains(t, none.body, "No earlier class is the same in all of this.")
	found := office.get(s.path("earlier") + "?track=on&sled=on&search=on")
	require.Contains(t, found.body, earlier.class().Name)
	require.Regexp(t, `[0-9]+ hooks · [0-9]+ full pulls`, found.body)
	fill := regexp.MustCompile(`href="([^"]*/desk\?[^"]*)#write"`).FindStringSubmatch(found.body)
	require.NotNil(t, fill)
	filled := office.get(strings.ReplaceAll(fill[1], "&amp;", "&"))
	require.Contains(t, filled.body, "Filled in and not stored.")
	require.Contains(t, filled.body, "left and right the same")
	require.Equal(t, lines, p.lines(), "nothing is stored by looking")

	form := filled.form("setting")
	require.Equal(t, http.StatusSeeOther, office.submit(form).status)
	revision := s.class().Rounds[0].Revisions[0]
	require.True(t, revision.Draft(), "a copy freezes nothing")
	require.Equal(t, earlier.class().Rounds[0].Revisions[0].Setting, revision.Setting)

	cab := p.as(domain.Cab).get(s.path("earlier") + "?track=on&search=on")
	require.Contains(t, cab.body, "The desk writes the setting")
	require.NotContains(t, cab.body, "/desk?")
}

// Programs ask the same, and write slabs by their weight.
func TestProgramsReadEarlierClassesAndWriteSlabs(t *testing.T) {
	t.Parallel()
	p := newPrograms(t)
	s, earlier := drawn(p.fair), pullOffDue(p.fair)
	path := s.api("/earlier")
	ask := func(as, query string) reply {
		t.Helper()
		return p.ask(call{method: http.MethodGet, path: path + query, as: as, wrong: true})
	}
	for _, as := range []string{p.secrets[domain.Booth], p.secret(otherSlug, domain.Cab), p.secret(otherSlug, domain.Desk)} {
		require.Equal(t, http.StatusForbidden, ask(as, "").status)
	}
	require.Equal(t, http.StatusUnauthorized, ask("", "").status)
	require.Equal(t, "[]", ask(p.secrets[domain.Cab], "").is(http.StatusOK).at("earlier"), "no other class has its name")
	told := ask(p.secrets[domain.Desk], "?same=sled,track").is(http.StatusOK)
	require.Equal(t, "no-store", told.header.Get("Cache-Control"))
	require.Equal(t, []string{earlier.ref.Class, "1", "1", "21600"}, []string{told.at("earlier.0.class"), told.at("earlier.0.round"), told.at("earlier.0.setting"), told.at("earlier.0.card.box.figures")})
	require.Equal(t, []string{"1800", "6"}, []string{told.at("earlier.0.card.slabs.piles.0.weight.figures"), told.at("earlier.0.card.slabs.piles.0.left")})
	wrong := ask(p.secrets[domain.Desk], "?same=sled,colour")
	require.Equal(t, []string{"422", "same"}, []string{fmt.Sprint(wrong.status), wrong.at("field")}, wrong.body)
	conforms(t, "same", wrong)

	put := func(slabs string) reply {
		t.Helper()
		body := `{"slabs": ` + slabs + `, "gear": 3, "start_hole": 2, "trip": {"figures": "198", "unit": "ft"}}`
		return p.ask(call{method: http.MethodPut, path: s.roundPath("setting"), body: body, as: p.secrets[domain.Desk], wrong: true})
	}
	const slab = `{"weight": {"figures": "1800", "unit": "lb"}, "left": `
	put(`{"piles": [` + slab + `5, "middle": 1, "right": 6}]}`).is(http.StatusOK)
	require.Equal(t, "21,600 lb", s.class().Rounds[0].Revisions[0].Setting.Box.String())
	for field, slabs := range map[string]string{
		"slabs":                 `{"piles": [{"weight": {"figures": "1700", "unit": "lb"}, "left": 1}]}`,
		"slabs.left":            `{"piles": [` + slab + `7}]}`,
		"slabs.piles":           `{"piles": [` + slab + `1}, ` + slab + `1}]}`,
		"slabs.piles[0].front":  `{"piles": [` + slab + `1, "front": 1}]}`,
		"slabs.piles[0].weight": `{"piles": [{"left": 1}]}`,
		"slabs.piles[0].left":   `{"piles": [` + slab + `"six"}]}`,
	} {
		r := put(slabs)
		require.Equal(t, []string{"422", field}, []string{fmt.Sprint(r.status), r.at("field")}, r.body)
		conforms(t, field, r)
	}
	require.Equal(t, "21,600 lb", s.class().Rounds[0].Revisions[0].Setting.Box.String(), "what is refused changes nothing")
}

// Where scripts run, the picture follows what is typed; a browser without them has a button for it.
func TestThePictureFollowsTheTyping(t *testing.T) {
	t.Parallel()
	f := newFair(t)
	s := written(f)
	b := newBrowser(t, 1280, 800)
	b.enter(f.link(domain.Desk))
	b.do(chromedp.Navigate(f.address+s.path("desk")), chromedp.WaitVisible(chromedp.CSS("#box svg")))
	require.Contains(t, b.text("#box"), "left and right the same")
	b.fill("Slabs left", "5")
	b.click("Look at it first")
	b.do(chromedp.WaitVisible(chromedp.CSS(".message[role=status]")))
	require.Contains(t, b.text("#box"), "right has 1,800 lb more than left", "without scripts")
	_, err := chromedp.Call(b.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	require.NoError(t, err)
	b.do(chromedp.Navigate(f.address+s.path("desk")), chromedp.WaitVisible(chromedp.CSS("#box svg")))
	b.fill("Slabs left", "5")
	require.Eventually(t, func() bool { return strings.Contains(b.text("#box"), "right has 1,800 lb more than left") }, deadline, poll)
	require.Equal(t, 6, s.class().Rounds[0].Revisions[0].Setting.Slabs.Left, "nothing is stored by typing and looking")
	require.True(t, s.class().Rounds[0].Revisions[0].Draft())
}
