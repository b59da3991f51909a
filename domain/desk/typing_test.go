package desk

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// heardOf lists what a booth that hears nothing yet is told of a class.
func heardOf(s *signs, class string) (texts []string) {
	list, _, _ := s.after(class, 0)
	for _, sign := range list {
		texts = append(texts, sign.Text)
	}
	return texts
}

// page is the id of a page of the tests.
func page(n int) uuid.UUID { return uuid.NewSHA1(uuid.Nil, fmt.Append(nil, n)) }

func TestWhatIsTypedIsToldAsFarAsItIsFigures(t *testing.T) {
	t.Parallel()
	for typed, told := range map[string]string{
		"287.3": "287.3", " 287,3 ": "287,3", `287' 4.5"`: `287' 4.5"`, "": "",
		"F": "", "F 312.44": "", "Q out of bounds": "", "2873456789.123": "", "28l.36": "", "２８７": "", "287\n": "287",
	} {
		assert.Equal(t, told, figures(typed), "%q", typed)
	}
}

func TestTheLastSignOfAPageIsToldAndNoOlderOne(t *testing.T) {
	t.Parallel()
	var s signs
	s.add(Sign{Class: "stock", From: page(1), Text: "28", At: morning})
	s.add(Sign{Class: "stock", From: page(2), Text: "31", At: morning})
	s.add(Sign{Class: "limited", From: page(3), Text: "55", At: morning})
	require.Equal(t, []string{"28", "31"}, heardOf(&s, "stock"), "of the class alone")
	_, heard, _ := s.after("stock", 0)
	s.add(Sign{Class: "stock", From: page(1), Text: "287", At: morning.Add(signPause)})
	list, _, _ := s.after("stock", heard)
	require.Len(t, list, 1)
	require.Equal(t, "287", list[0].Text)
	require.Equal(t, []string{"31", "287"}, heardOf(&s, "stock"), "who comes later is told the last of each page")

	s.add(Sign{Class: "stock", From: page(1), Text: "2873", At: morning.Add(2*signPause - 1)})
	require.Equal(t, []string{"31", "287"}, heardOf(&s, "stock"), "too soon")
}

func TestASignIsOverByItself(t *testing.T) {
	t.Parallel()
	sign := Sign{Class: "stock", From: page(1), Text: "28", At: morning}
	assert.True(t, sign.Fresh(morning.Add(signLife-1)))
	assert.False(t, sign.Fresh(morning.Add(signLife)))
	var s signs
	s.add(sign)
	s.add(Sign{Class: "stock", From: page(2), Text: "31", At: morning.Add(signLife)})
	require.Equal(t, []string{"31"}, heardOf(&s, "stock"))
}

func TestManyPagesAtOnceAreBounded(t *testing.T) {
	t.Parallel()
	var s signs
	for n := range signsKept + 1 {
		s.add(Sign{Class: "stock", From: page(n), Text: fmt.Sprint(n), At: morning})
	}
	require.Len(t, heardOf(&s, "stock"), signsKept)
	s.add(Sign{Class: "stock", From: page(0), Text: "again", At: morning.Add(signPause)})
	require.Contains(t, heardOf(&s, "stock"), "again", "who is among them goes on")
	s.add(Sign{Class: "stock", From: page(99), Text: "late", At: morning.Add(signPause + signLife)})
	require.Equal(t, []string{"late"}, heardOf(&s, "stock"))
}

// Whatever is given: no page is told twice, none that is over by then, never more than the bound, and what was heard is not
// told again.
func TestSignsAreBoundedWhateverIsGiven(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var s signs
		at, heard := morning, int64(0)
		for range rapid.IntRange(1, 60).Draw(t, "signs") {
			at = at.Add(time.Duration(rapid.IntRange(0, 2000).Draw(t, "later")) * time.Millisecond)
			s.add(Sign{Class: "stock", From: page(rapid.IntRange(0, 20).Draw(t, "page")), At: at})
			all, _, _ := s.after("stock", 0)
			if len(all) > signsKept {
				t.Fatalf("%d are kept", len(all))
			}
			from := map[uuid.UUID]bool{}
			for _, sign := range all {
				if from[sign.From] {
					t.Fatal("a page is told twice")
				}
				from[sign.From] = true
			}
			more, last, _ := s.after("stock", heard)
			for _, sign := range more {
				if sign.number <= heard || sign.number > last {
					t.Fatalf("%d after %d", sign.number, heard)
				}
			}
			heard = last
		}
	})
}

// Who waits is woken by the next sign of the class, and may leave.
func TestWhoHearsWaitsForTheNextSign(t *testing.T) {
	t.Parallel()
	event := uuid.New()
	l := newLive(nil, nil)
	watched := &topic{head: 57, woken: make(chan struct{})}
	l.events["e"], l.topics[event] = event, watched
	l.listening.Store(true)
	told := make(chan Sign, 1)
	go func() {
		list, _, err := l.Signs(t.Context(), Ref{Event: "e", Class: "stock"}, 0)
		if assert.NoError(t, err) && assert.Len(t, list, 1) {
			told <- list[0]
		}
	}()
	watched.signs.add(Sign{Class: "limited", From: page(1), At: morning})
	watched.signs.add(Sign{Class: "stock", From: page(2), Text: "287.3", At: morning})
	require.Equal(t, "287.3", (<-told).Text)

	impatient, leave := context.WithCancel(t.Context())
	leave()
	_, heard, err := l.Signs(impatient, Ref{Event: "e", Class: "stock"}, 2)
	require.ErrorIs(t, err, context.Canceled)
	require.EqualValues(t, 2, heard)
}
