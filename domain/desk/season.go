package desk

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"

	"clayline/domain"
	"clayline/domain/doc"
)

// Season is a season as this server keeps it: the document that its desk wrote, in which classes are named by their
// addresses. The standing is computed from it and from the classes each time.
type Season struct {
	ID       uuid.UUID
	Slug     string // permanent part of its address, of the name that it had first
	Name     string
	Document string
	Changes  int // how often it was written anew
}

// Version counts the documents of the season, from 1.
func (s Season) Version() int { return s.Changes + 1 }

// SeasonPage is a season with its standing. Where the document and the classes do not go together any more, because a class
// was changed after the season was written, Fault says what and there is no standing.
type SeasonPage struct {
	Season Season
	Scored doc.SeasonScored
	Fault  error
	// Journal has the newest lines of the season, which are for staff.
	Journal []Line
}

// seasonFile is what a fault of a season calls the document.
const seasonFile = "season"

// seasonKind is the kind of the journal line of a season that was written.
const seasonKind = "season"

// Seasons reads all seasons by name, without their documents.
func (d *Desk) Seasons(ctx context.Context) (seasons []Season, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		seasons, err = tx.Seasons(ctx)
		return err
	})
	return seasons, err
}

// SeasonPage reads a season and adds its classes up, as of one moment; NotFound where there is none of that address.
func (d *Desk) SeasonPage(ctx context.Context, slug string) (page SeasonPage, err error) {
	err = d.store.InTx(ctx, Snapshot, func(tx Tx) error {
		if page.Season, err = tx.Season(ctx, slug); err != nil {
			return err
		}
		if page.Scored, page.Fault, err = scoreSeason(ctx, tx, page.Season.Document); err != nil {
			return err
		}
		page.Journal, err = tx.Journal(ctx, page.Season.ID, uuid.Nil, journalTail)
		return err
	})
	return page, err
}

// scoreSeason adds up the classes that a document names. The fault is of kind Invalid, with the field "document".
func scoreSeason(ctx context.Context, tx Tx, document string) (scored doc.SeasonScored, fault, err error) {
	refs := make(map[string]Ref)
	var asked []Ref
	for _, address := range doc.SeasonClasses([]byte(document)) {
		event, class, _ := strings.Cut(address, "/")
		refs[address] = Ref{Event: event, Class: class}
		asked = append(asked, refs[address])
	}
	held, err := tx.ClassesAt(ctx, asked)
	if err != nil {
		return scored, nil, err
	}
	season, fault := doc.ReadSeason([]byte(document), seasonFile, doc.SeasonFiles{Class: func(address string) (doc.HeldClass, bool) {
		class, there := held[refs[address]]
		return class, there
	}})
	if fault == nil {
		scored, fault = doc.ScoreSeason(season)
	}
	return scored, refusedSeason(fault), nil
}

// refusedSeason says of a fault that it is about the document, as one sentence with its place; nil for none.
func refusedSeason(fault error) error {
	if fault == nil {
		return nil
	}
	if e, ok := errors.AsType[*doc.SeasonError](fault); ok {
		return e.Refusal("document")
	}
	// What the standing refuses says which series it is about.
	refusal := &domain.Error{Kind: domain.Invalid, Field: "document", Message: fault.Error(), Cause: fault}
	if e, ok := errors.AsType[*domain.Error](fault); ok {
		refusal.Fix, refusal.Message = e.Fix, strings.TrimSuffix(fault.Error(), "; "+e.Fix)
	}
	return refusal
}

// KeepSeason puts a season on this server, or writes the document of the one with the slug anew; "" is a new one, whose
// address is made from its name. Only a pass for every event may. A document that cannot be added up with the classes as they
// are is refused, with its line and field. The version is the one that was looked at, and not looked at for a new season.
//
// The line is the season's own, and has the hash of the document in place of it.
func (d *Desk) KeepSeason(ctx context.Context, by By, slug string, action uuid.UUID, version int, document string) (Season, Receipt, error) {
	if err := by.may(domain.Desk, uuid.Nil); err != nil {
		return Season{}, Receipt{}, err
	}
	season, receipt, err := d.keepSeason(ctx, by, slug, action, version, document)
	// Of two that are the same the one that came second may be refused by the database, and finds what the first stored.
	if kind := domain.KindOf(err); slug == "" && (kind == domain.Invalid || kind == domain.Stale) {
		if season, again, doneErr := d.keepSeason(ctx, by, slug, action, version, document); doneErr == nil && again.Repeated {
			return season, again, nil
		}
	}
	if err == nil {
		d.live.grew()
	}
	return season, receipt, err
}

// keepSeason stores the document, or finds that the action was done before.
func (d *Desk) keepSeason(ctx context.Context, by By, slug string, action uuid.UUID, version int, document string) (season Season, receipt Receipt, err error) {
	at := d.moment()
	err = d.store.InTx(ctx, ReadCommitted, func(tx Tx) error {
		before, err := seasonBefore(ctx, tx, slug, action)
		if err != nil {
			return err
		}
		season = before.Season
		payload, err := seasonPayload(season.ID, version, document)
		if err != nil {
			return err
		}
		if before.Done != nil {
			receipt = before.Done.receipt(domain.Class{})
			return before.Done.sameAs(seasonKind, season.ID, payload)
		}
		if slug != "" && version != season.Version() {
			return &domain.Error{Kind: domain.Stale, Field: "version", Message: "the season was written anew meanwhile", Fix: "read it again, look, and send again"}
		}
		after, err := seasonAfter(ctx, tx, season, slug == "", document)
		if err != nil {
			return err
		}
		season, receipt = after, Receipt{Kind: seasonKind, At: at}
		if slug == "" {
			tx.AddSeason(season, at)
		} else {
			tx.SaveSeason(season)
		}
		tx.Append(by.line(season.ID, action, at, seasonKind, season.ID, payload), &receipt.Number)
		return nil
	})
	return season, receipt, err
}

// seasonBefore locks the season of a slug. For a new one there is nothing to lock; its id is that of the action, so that the
// same sent again finds its line.
func seasonBefore(ctx context.Context, tx Tx, slug string, action uuid.UUID) (locked LockedSeason, err error) {
	if slug != "" {
		return tx.LockSeason(ctx, slug, action)
	}
	locked.Season.ID = action
	if locked.Done, err = tx.ActionDone(ctx, action, action); err != nil || locked.Done == nil {
		return locked, err
	}
	seasons, err := tx.Seasons(ctx)
	for _, s := range seasons {
		if s.ID == action {
			locked.Season = s
		}
	}
	return locked, err
}

// seasonAfter is the season with another document, which must be one that can be added up.
func seasonAfter(ctx context.Context, tx Tx, season Season, isNew bool, document string) (Season, error) {
	scored, fault, err := scoreSeason(ctx, tx, document)
	if err := errors.Join(err, fault); err != nil {
		return season, err
	}
	season.Name, season.Document = scored.Season, document
	if !isNew {
		season.Changes++
		return season, nil
	}
	seasons, err := tx.Seasons(ctx)
	if err != nil {
		return season, err
	}
	season.Slug = domain.Slug(season.Name)
	taken := func(s Season) bool { return s.Slug == season.Slug }
	if season.Slug == "" || slices.ContainsFunc(seasons, taken) {
		return season, &domain.Error{Kind: domain.Invalid, Field: "document", Message: fmt.Sprintf("name: no address can be made of %q, or it is taken", season.Name),
			Fix: "write a name with letters that no other season has, such as one with the year"}
	}
	return season, nil
}

// seasonPayload is what the journal has of a season that was written: which, after which version, and the hash of the document,
// in hexadecimal.
func seasonPayload(id uuid.UUID, version int, document string) ([]byte, error) {
	hash := sha256.Sum256([]byte(document))
	return json.Marshal(struct {
		Season   uuid.UUID
		Version  int
		Document string
	}{id, version, hex.EncodeToString(hash[:])})
}
