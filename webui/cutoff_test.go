package webui

import (
	"context"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/domain/doc"
	"clayline/webui/language"
	"clayline/webui/templates"
)

// cutEvent is the event of the classes here.
var cutEvent = domain.Event{Name: "Tarn Hollow", Slug: "tarn-hollow", Zone: "UTC"}

// given is the copy of a class as the server would give it.
func given(class *domain.Class) doc.ClassCopy {
	return doc.ClassCopy{Event: cutEvent, Class: *class, Number: 42}
}

// fields writes the fields of a form, two words each: its name and its value.
func fields(words ...string) string {
	values := url.Values{}
	for i := 0; i+1 < len(words); i += 2 {
		values.Set(words[i], words[i+1])
	}
	return values.Encode()
}

// typedAt is when everything here was typed.
var typedAt = time.Date(2026, 9, 19, 19, 0, 0, 0, time.UTC)

// resultOf is the form of a result for the hook on the track of the class, which calls the next hook by the id.
func resultOf(class *domain.Class, typed string, next uuid.UUID) KeptForm {
	on := class.OnTrack()
	return KeptForm{Action: uuid.New(), Page: "booth", Act: "result", At: typedAt,
		Values: fields("hook", on.ID.String(), "of", on.Entry.String(), "next", next.String(), "result", typed)}
}

// goOnBooth is the booth's page without its server.
func goOnBooth(t require.TestingT, c doc.ClassCopy, kept []KeptForm, at *KeptForm) CutOff {
	alone, err := GoOn(context.Background(), "booth", c, kept, at)
	require.NoError(t, err)
	return alone
}

// The page alone is the server's page: what is kept is done on the copy as the server would do it, whoever is next is asked
// for, and the standing is the domain's.
func TestThePageGoesOnWithWhatIsKept(t *testing.T) {
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	second := class.OnTrack().Entry
	next := uuid.UUID{15: 200}
	kept := resultOf(class, "290,5", next)
	alone := goOnBooth(t, given(class), []KeptForm{kept}, nil)
	require.False(t, alone.Refused)
	require.Empty(t, alone.Stands)

	after, _, err := kept.on(context.Background(), *class)
	require.NoError(t, err)
	require.Equal(t, next, after.OnTrack().ID, "the next hook has the id that the form made")
	require.NotEqual(t, second, after.OnTrack().Entry)
	for _, words := range []string{
		after.Entry(after.OnTrack().Entry).Details.Puller, "290.5", "kept here", "1 form kept here, not on the server. The server had number 42.",
		`name="hook" value="` + next.String(), `name="of" value="` + after.OnTrack().Entry.String(), "Still to hook", "Standing",
	} {
		require.Contains(t, alone.Main, words)
	}
	require.Contains(t, alone.Main, classHref(cutEvent, *class)+"/booth/result", "the forms are those of the server")
	require.Equal(t, after.Standing()[0].Row, indexOf(&after, second), "who is kept here leads")
	require.Equal(t, domain.Hooking, class.Phase(), "the copy stays as it is")
}

// indexOf is the row of an entry.
func indexOf(class *domain.Class, entry uuid.UUID) int {
	for i, e := range class.Entries {
		if e.ID == entry {
			return i
		}
	}
	return -1
}

// What the server would refuse or ask about is refused and asked about at once, with the typing, and not kept.
func TestThePageAloneRefusesAsTheServerDoes(t *testing.T) {
	class := tell(t, "capped-300ft", "draw", "write", "freeze", "call")
	for _, c := range []struct{ name, typed, says string }{
		{"what is no result", "28l.36", "is not a result"},
		{"what is hardly possible", "2873", "Enter again stores it all the same"},
	} {
		form := resultOf(class, c.typed, uuid.New())
		alone := goOnBooth(t, given(class), nil, &form)
		require.True(t, alone.Refused, c.name)
		require.Contains(t, alone.Main, c.says)
		require.Contains(t, alone.Main, `value="`+c.typed+`"`, "the typing stays")
		require.Contains(t, alone.Main, "0 forms kept here")
	}
	form := resultOf(class, "2873", uuid.New())
	form.Values += "&confirm=" + url.QueryEscape("2873 ft lies far beyond the track")
	require.False(t, goOnBooth(t, given(class), nil, &form).Refused, "what was confirmed is kept")
}

// An answer may be lost on its way back: the copy then has what is still kept, and it is not done again.
func TestWhatTheCopyHasIsNotDoneTwice(t *testing.T) {
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	kept := resultOf(class, "290.5", uuid.UUID{15: 200})
	after, _, err := kept.on(context.Background(), *class)
	require.NoError(t, err)
	c := given(&after)
	require.Len(t, goOnBooth(t, c, []KeptForm{kept}, nil).Stands, 1, "without its id it is another's")
	c.Done = []uuid.UUID{kept.Action}
	alone := goOnBooth(t, c, []KeptForm{kept}, nil)
	require.Empty(t, alone.Stands)
	require.Contains(t, alone.Main, "0 forms kept here")
}

// What cannot be done on the copy is told, and what stands behind it is tried.
func TestWhatCannotBeDoneIsTold(t *testing.T) {
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	wrong := KeptForm{Action: uuid.New(), Page: "booth", Act: "result", At: typedAt, Values: fields("hook", uuid.NewString(), "next", uuid.NewString(), "result", "290")}
	strange := KeptForm{Action: uuid.New(), Page: "booth", Act: "sign", At: typedAt}
	broken := KeptForm{Action: uuid.New(), Page: "booth", Act: "result", At: typedAt, Values: "%zz"}
	good := resultOf(class, "290.5", uuid.New())
	alone := goOnBooth(t, given(class), []KeptForm{wrong, strange, broken, good}, nil)
	require.Len(t, alone.Stands, 3)
	require.Contains(t, alone.Stands[wrong.Action], "That puller is not on the track.")
	require.Contains(t, alone.Stands[strange.Action], "There is no such form.")
	require.Contains(t, alone.Main, "1 form kept here")
	_, err := GoOn(t.Context(), "booth", given(class), nil, &strange)
	require.Error(t, err, "a form that no page has is no typing to be kept")
}

// A page in another language goes on in it: it is the English page said in the language, and there is nothing on it that the
// catalogue does not know. Numbers are read as the language writes them, and given back as they were typed.
func TestThePageGoesOnInItsLanguage(t *testing.T) {
	german := language.With(t.Context(), language.German())
	floating := []string{"draw", "write", "freeze", "call", "281.36", "keep"}
	class := tell(t, "floating-ft", floating...)
	kept := resultOf(class, "290,5", uuid.UUID{15: 200})
	stale := KeptForm{Action: uuid.New(), Page: "booth", Act: "result", At: typedAt, Values: kept.Values}
	refusedForm, unlikelyForm := resultOf(class, "28l,36", uuid.New()), resultOf(class, "2873,5", uuid.New())
	again := KeptForm{Action: uuid.New(), Page: "booth", Act: "again", At: typedAt, Values: fields("hook", class.OnTrack().ID.String(), "next", uuid.NewString(), "reason", "12,5")}
	cab := tell(t, "capped-300ft", "draw", "write", "freeze", "call")
	held := KeptForm{Action: uuid.New(), Page: "cab", Act: "hold", At: typedAt, Values: fields("hook", cab.OnTrack().ID.String(), "of", cab.OnTrack().Entry.String(), "words", "cable frayed")}
	for name, c := range map[string]struct {
		page  string
		class *domain.Class
		kept  []KeptForm
		at    *KeptForm
		says  []string
	}{
		"nothing kept":      {page: "booth", class: class, says: []string{"Noch zu ziehen", "0 Formulare hier behalten"}},
		"one kept":          {page: "booth", class: class, kept: []KeptForm{kept}, says: []string{"290,5", "hier behalten", "1 Formular hier behalten, nicht auf dem Server. Der Server hatte Nummer 42.", `action="/de/e/tarn-hollow/`}},
		"one that is stale": {page: "booth", class: class, kept: []KeptForm{kept, stale}, says: []string{"290,5"}},
		"one refused":       {page: "booth", class: class, at: &refusedForm, says: []string{"ist kein Ergebnis", `value="28l,36"`}},
		"one to ask about":  {page: "booth", class: class, at: &unlikelyForm, says: []string{"Noch einmal Enter speichert es trotzdem.", `value="2873,5"`}},
		"a reason":          {page: "booth", class: class, at: &again, says: []string{`value="12,5"`}},
		"no draw":           {page: "booth", class: tell(t, "floating-ft"), says: []string{"0 Formulare hier behalten"}},
		"the cab":           {page: "cab", class: cab, says: []string{"Bremswagen"}},
		"a cab that holds":  {page: "cab", class: cab, kept: []KeptForm{held}, says: []string{"cable frayed"}},
	} {
		alone, err := GoOn(german, c.page, given(c.class), c.kept, c.at)
		require.NoError(t, err, name)
		english, err := GoOn(t.Context(), c.page, given(c.class), c.kept, nil)
		require.NoError(t, err, name)
		_, unknown := language.German().Page([]byte(english.Main))
		require.Empty(t, unknown, name)
		for _, words := range c.says {
			require.Contains(t, alone.Main, words, name)
		}
		require.Equal(t, c.at != nil, alone.Refused, name)
		require.Equal(t, len(c.kept) > 1, len(alone.Stands) > 0, name)
		for _, why := range alone.Stands {
			require.Contains(t, why, "Zu diesem Zug ist schon ein Ergebnis gespeichert.")
		}
	}
}

// The cab's page goes on too, and asks nothing more of who has said ready.
func TestTheCabGoesOn(t *testing.T) {
	class := tell(t, "capped-300ft", "draw", "write", "freeze", "call")
	on := class.OnTrack()
	ready := KeptForm{Action: uuid.New(), Page: "cab", Act: "ready", At: typedAt, Values: fields("hook", on.ID.String(), "of", on.Entry.String())}
	before, err := GoOn(t.Context(), "cab", given(class), nil, nil)
	require.NoError(t, err)
	require.Contains(t, before.Main, "All ready")
	after, err := GoOn(t.Context(), "cab", given(class), []KeptForm{ready}, nil)
	require.NoError(t, err)
	require.NotContains(t, after.Main, "All ready")
	require.Contains(t, after.Main, "19:00: the sled crew is ready.")
	class = tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	require.Contains(t, mustGoOn(t, "cab", class, resultOf(class, "290.5", uuid.New())), class.Entries[indexOf(class, class.Current().Waiting()[0])].Details.Puller, "what the booth of this browser keeps is seen")
}

// mustGoOn is the main part of a page with one form kept.
func mustGoOn(t *testing.T, page string, class *domain.Class, kept KeptForm) string {
	t.Helper()
	alone, err := GoOn(t.Context(), page, given(class), []KeptForm{kept}, nil)
	require.NoError(t, err)
	require.Empty(t, alone.Stands)
	return alone.Main
}

// The order may have been changed while a form was kept: its hook is then of somebody else, and what was typed for the one
// is never stored for the other.
func TestAFormIsOfWhomItWasTypedFor(t *testing.T) {
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	on, waiting := class.OnTrack(), class.Current().Waiting()
	read := func(act string, of uuid.UUID, words ...string) error {
		values, err := url.ParseQuery(fields(append(words, "of", of.String())...))
		require.NoError(t, err)
		_, err = readGuarded(boothActs[act], class, values)
		return err
	}
	result := []string{"hook", on.ID.String(), "next", uuid.NewString(), "result", "290"}
	require.NoError(t, read("result", on.Entry, result...))
	err := read("result", waiting[0], result...)
	require.ErrorContains(t, err, "this was typed for "+named(class.Entry(waiting[0]))+", and the hook is of "+named(class.Entry(on.Entry))+" now")
	var refusal *domain.Error
	require.ErrorAs(t, err, &refusal)
	require.Equal(t, domain.Stale, refusal.Kind)

	// A call names whom it calls; once it was done, the same is true of the hook that it made.
	require.NoError(t, read("call", on.Entry, "next", on.ID.String()), "sent again after it was done")
	require.NoError(t, read("call", waiting[1], "next", uuid.NewString()), "that somebody is on the track is the decision's to say")
	again := tell(t, "floating-ft", "draw", "write", "freeze")
	first := again.Current().Waiting()
	for i, sound := range []bool{true, false} {
		_, err := readGuarded(boothActs["call"], again, url.Values{"next": {uuid.NewString()}, "of": {first[i].String()}})
		require.Equal(t, sound, err == nil, "%v", err)
	}

	require.NoError(t, read("start", uuid.New(), "hook", uuid.NewString()), "a hook that is not there is the decision's to refuse")
	values := url.Values{"hook": {on.ID.String()}, "next": {uuid.NewString()}, "result": {"290"}, "of": {"nobody"}}
	_, err = readGuarded(boothActs["result"], class, values)
	require.ErrorContains(t, err, "the form is not complete")
	delete(values, "of")
	_, err = readGuarded(boothActs["result"], class, values)
	require.NoError(t, err, "a form without it is one that was shown by an older program")
}

// What the page alone works out of any run of results is what the server makes of the same forms, one after another.
func TestThePageAloneAgreesWithTheServer(t *testing.T) {
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep")
	rapid.Check(t, func(t *rapid.T) {
		server := *class
		var kept []KeptForm
		for server.Phase() == domain.Hooking && rapid.Bool().Draw(t, "more") {
			typed := rapid.SampledFrom([]string{"250", "F 312.4", "A", "Q out of bounds", "299,99"}).Draw(t, "typed")
			form := resultOf(&server, typed, uuid.New())
			after, values, err := form.on(context.Background(), server)
			require.NoError(t, err, "%v", values)
			kept, server = append(kept, form), after
		}
		alone := goOnBooth(t, given(class), kept, nil)
		require.Empty(t, alone.Stands)
		view := boothOf(templates.Frame{}, desk.ClassPage{Event: cutEvent, Class: server}, nil)
		for _, stored := range view.Stored {
			require.Contains(t, alone.Main, stored.Text)
		}
		if on := server.OnTrack(); on != nil {
			require.Contains(t, alone.Main, `name="hook" value="`+on.ID.String())
		} else {
			require.NotContains(t, alone.Main, `id="result"`)
		}
		require.Equal(t, len(kept) > 0, strings.Contains(alone.Main, "<span class=\"remark\">kept here</span>"))
	})
}

// What the server has of a hook is found by whom the form is about, since hooks that were called meanwhile have other ids.
func TestTheServersHookIsOfWhomTheFormIsAbout(t *testing.T) {
	class := tell(t, "floating-ft", "draw", "write", "freeze", "call", "281.36", "keep", "263.1")
	first, on := &class.Current().Hooks[0], class.OnTrack()
	values := func(hook, of uuid.UUID) url.Values { return url.Values{"hook": {hook.String()}, "of": {of.String()}} }
	require.Equal(t, first, serversHook(class, values(first.ID, first.Entry)))
	require.Equal(t, on.ID, serversHook(class, values(uuid.New(), on.Entry)).ID, "called by another id")
	require.Equal(t, first, serversHook(class, values(on.ID, first.Entry)), "the hook is another's now")
	require.Equal(t, first, serversHook(class, url.Values{"hook": {first.ID.String()}}))
	require.Nil(t, serversHook(class, values(uuid.New(), class.Current().Waiting()[0])))
	require.Nil(t, serversHook(&domain.Class{}, values(first.ID, first.Entry)))
	require.Equal(t, "281.36 ft", hookNow(first))
	require.Equal(t, "on the track, without a result", hookNow(on))
	corrected := *first
	corrected.Corrected = "misread tape"
	require.Equal(t, "281.36 ft, corrected: misread tape", hookNow(&corrected))
}
