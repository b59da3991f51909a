//go:build !js

package webui

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"clayline/domain"
	"clayline/domain/desk"
	"clayline/webui/templates"
)

// announcer shows the card of whoever speaks beside the track, to a pass for the booth or the desk. It changes nothing.
func (s *Site) announcer(c echo.Context) error {
	by, err := s.may(c, domain.Booth|domain.Desk)
	if err != nil {
		return err
	}
	spoken, err := s.desk.Announce(c.Request().Context(), ref(c))
	if err != nil {
		return err
	}
	if err := mayAt(by, spoken.Event.ID); err != nil {
		return err
	}
	c.Response().Header().Set("Cache-Control", "no-store")
	return show(c, http.StatusOK, s.announcerOf(c, by, spoken))
}

// announcerOf lays the card out.
func (s *Site) announcerOf(c echo.Context, by desk.By, spoken desk.Spoken) templates.Announcer {
	class := &spoken.Class
	view := templates.Announcer{
		Frame: s.classFrame(c, spoken.ClassPage, by), Hooking: hooking(class), Class: class.Name, Sentence: stateSentence(class),
		Links: []templates.Link{
			{Text: "The card of the class that is pulled now", Href: eventHref(spoken.Event) + "/booth/announcer"},
			{Text: "The class as everybody sees it", Href: classHref(spoken.Event, *class)},
			{Text: "Booth", Href: classHref(spoken.Event, *class) + "/booth"},
		},
	}
	view.Stream, view.Awake = classStream(spoken.Event, class), true
	stake := spoken.Stake
	if stake == nil {
		view.Quiet = &templates.Quiet{Text: "Nobody is called.", Next: awaited(class) + "."}
		return view
	}
	e, r := class.Entry(stake.Entry), class.Current()
	view.Who = puller(e)
	view.Sentence = "Next, to be called · " + roundTitle(r.Name)
	if on := class.OnTrack(); on != nil {
		view.Sentence = "On the track · " + roundTitle(r.Name) + " · " + turnOf(class)
		if on.Test {
			view.Sentence += " · test hook"
		}
	}
	view.Lead, view.Full = leadWords(stake), fullPullWords(class, stake.Full)
	view.Pulls, view.Found = pullsBefore(spoken, e), foundHow(spoken.Event, e)
	return view
}

// leadWords say what it takes to lead alone.
func leadWords(s *domain.Stake) string {
	switch {
	case !s.CanLead:
		return "No distance short of a full pull leads now."
	case s.Over.IsZero():
		return "Any distance leads now."
	default:
		return "More than " + s.Over.String() + " leads now."
	}
}

// fullPullWords say what a full pull means now: with whom it comes back, or what place it makes.
func fullPullWords(c *domain.Class, full *domain.FullStake) string {
	if full == nil {
		return "Past the line the figure counts as it is."
	}
	round := c.Current().Name
	switch in := c.Rules.Finalists(1); {
	case len(full.Back) > 0 && round.PullOff:
		return "A full pull comes back for a further pull-off with " + namesOf(c, full.Back) + ", as it stands."
	case len(full.Back) > 0:
		return "A full pull comes back for the pull-off with " + namesOf(c, full.Back) + ", as it stands."
	case len(full.Shared) > 0:
		return fmt.Sprintf("A full pull shares place %d with %s; as it stands nobody comes back for it.", full.Place, namesOf(c, full.Shared))
	case full.Place != 1:
		return fmt.Sprintf("A full pull makes place %d, as it stands.", full.Place)
	case round.PullOff || c.Rules.PullOff.Who == domain.Nobody:
		return "A full pull leads."
	case in > 1:
		return fmt.Sprintf("A full pull leads. Under these rules the best %d come back for the pull-off, whatever they pulled.", in)
	default:
		return "A full pull leads, and comes back for the pull-off with whoever else makes one."
	}
}

// namesOf lists entries to be said aloud, with no word between them that belongs to one language: "7 Ellis Tarrant, 12 Otto Lunde &
// 23 Jonas Weir".
func namesOf(c *domain.Class, entries []uuid.UUID) string {
	names := make([]string, len(entries))
	for i, id := range entries {
		names[i] = named(c.Entry(id))
	}
	last := len(names) - 1
	if last < 1 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:last], ", ") + " & " + names[last]
}

// pullsBefore lists what the puller pulled in this class and at this place before, the newest first. In this class it is
// the entry's own hooks, elsewhere those of whoever has the same name.
func pullsBefore(spoken desk.Spoken, who domain.Entry) []templates.EarlierPull {
	own := desk.EarlierClass{Event: spoken.Event, Class: spoken.Class}
	list := pullsIn(own, "today", func(e domain.Entry) bool { return e.ID == who.ID })
	for _, earlier := range spoken.Earlier {
		when := earlier.Event.Sessions[0].Starts.In(earlier.Event.Location()).Format(dateFormat)
		list = append(list, pullsIn(earlier, when, func(e domain.Entry) bool { return strings.EqualFold(e.Details.Puller, who.Details.Puller) })...)
	}
	return list
}

// pullsIn lists what was pulled in one class, the last hook first.
func pullsIn(of desk.EarlierClass, when string, is func(domain.Entry) bool) (list []templates.EarlierPull) {
	c := &of.Class
	for _, p := range slices.Backward(c.PulledBy(is)) {
		o := outcome(p.Hook.Result)
		if o.Kind == templates.Measured {
			o.Text = p.Hook.Result.Distance.String()
		}
		list = append(list, templates.EarlierPull{
			Outcome: o, When: when, Class: templates.Link{Text: c.Name, Href: classHref(of.Event, *c)}, Where: roundTitle(p.Round) + " · sled " + c.Sled.Name, Vehicle: c.Entry(p.Hook.Entry).Details.Vehicle,
		})
	}
	return list
}

// foundHow say how the list came to be, so that nobody takes it for more.
func foundHow(e domain.Event, who domain.Entry) string {
	switch {
	case who.Details.Puller == "":
		return "No name was entered for this number, so that nothing earlier can be found."
	case e.Place == "":
		return "The event has no place written, so that earlier ones cannot be found."
	default:
		return fmt.Sprintf("Found by the name, at events in %s, of the newest %d other classes. Another setting or another sled does not compare.", e.Place, desk.MostSpoken)
	}
}
