package desk

import (
	"context"

	"github.com/google/uuid"

	"clayline/domain"
)

// MostEarlier is how many earlier classes are told of: the newest. A crew compares a few days and not all.
const MostEarlier = 20

// Same says in what an earlier class is the same: its name, its track, its sled, each by the name that people gave it,
// whatever the letters' case. A track is the same where the place of its event is too: many a place has a Track 1.
type Same struct {
	Class, Track, Sled bool
}

// EarlierAsk asks for classes of any event that had a frozen setting, the newest first.
type EarlierAsk struct {
	Not                       uuid.UUID // the class that asks
	Class, Track, Place, Sled string    // "" asks for any; with a Track, the Place counts even where it is ""
	Puller                    string    // somebody of this name is entered; "" for anybody
	Most                      int
}

// EarlierClass is a class that was pulled before, with its event as far as it is about this class: its session, its track.
type EarlierClass struct {
	Event domain.Event
	Class domain.Class
}

// Earlier reads a class and the classes before it that are the same in what is asked, as of one moment. What is kept
// back of a class that is being pulled is kept back here too. Everything in it stands on public pages, so that it is
// told of all events of the server; who may ask is the caller's to know.
func (d *Desk) Earlier(ctx context.Context, ref Ref, same Same) (page ClassPage, earlier []EarlierClass, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		if page.Event, page.Class, err = tx.Class(ctx, ref); err != nil {
			return err
		}
		earlier, err = tx.Earlier(ctx, earlierAsk(page, same))
		return err
	})
	for i := range earlier {
		earlier[i].Class = earlier[i].Class.Told()
	}
	return page, earlier, err
}

// earlierAsk names what has to be the same.
func earlierAsk(page ClassPage, same Same) EarlierAsk {
	ask := EarlierAsk{Not: page.Class.ID, Most: MostEarlier}
	if same.Class {
		ask.Class = page.Class.Name
	}
	if same.Sled {
		ask.Sled = page.Class.Sled.Name
	}
	for _, t := range page.Event.Tracks {
		if same.Track && t.ID == page.Class.Track {
			ask.Track, ask.Place = t.Name, page.Event.Place
		}
	}
	return ask
}
