package postgres

import (
	"context"
	"errors"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"clayline/domain/desk"
	"clayline/domain/remind"
)

// PushKeys returns the keys by which push services know this server: those that are there, or fresh where there are none.
// Of several programs that start at once the first one's stay.
func (s *Store) PushKeys(ctx context.Context, fresh remind.Keys) (k remind.Keys, err error) {
	defer wrap(&err, "PushKeys")
	if _, err := s.pool.Exec(ctx, `
		INSERT INTO push_key (public_key, private_key)
		VALUES (@public, @private)
		ON CONFLICT DO NOTHING`, pgx.NamedArgs{"public": fresh.Public, "private": fresh.Private}); err != nil {
		return k, err
	}
	err = s.pool.QueryRow(ctx, `SELECT public_key, private_key FROM push_key`).Scan(&k.Public, &k.Private)
	return k, err
}

// AddReminder keeps a wish; see the Store of remind. Who asks again in a round is told again in it.
func (s *Store) AddReminder(ctx context.Context, r remind.Reminder) (err error) {
	defer wrap(&err, "AddReminder(%s)", r.Entry)
	_, err = s.pool.Exec(ctx, `
		INSERT INTO reminder (entry_id, endpoint, class_id, phone_key, secret, language)
		VALUES (@entry, @endpoint, @class, @key, @secret, @language)
		ON CONFLICT (entry_id, endpoint) DO UPDATE
		SET phone_key = @key, secret = @secret, language = @language, told_round = NULL`,
		pgx.NamedArgs{
			"entry": r.Entry, "endpoint": r.Phone.Endpoint, "class": r.Class, "key": r.Phone.Key, "secret": r.Phone.Secret, "language": r.Phone.Language,
		})
	return err
}

// RemoveReminder forgets a wish; see the Store of remind.
func (s *Store) RemoveReminder(ctx context.Context, entry uuid.UUID, endpoint string) (err error) {
	defer wrap(&err, "RemoveReminder(%s)", entry)
	_, err = s.pool.Exec(ctx, `DELETE FROM reminder WHERE entry_id = @entry AND endpoint = @endpoint`, pgx.NamedArgs{"entry": entry, "endpoint": endpoint})
	return err
}

// RemoveReminders forgets the wishes for a class; see the Store of remind.
func (s *Store) RemoveReminders(ctx context.Context, class uuid.UUID) (err error) {
	defer wrap(&err, "RemoveReminders(%s)", class)
	_, err = s.pool.Exec(ctx, `DELETE FROM reminder WHERE class_id = @class`, pgx.NamedArgs{"class": class})
	return err
}

// Reminders reads the wishes for a class; see the Store of remind.
func (s *Store) Reminders(ctx context.Context, class uuid.UUID) (list []remind.Reminder, err error) {
	defer wrap(&err, "Reminders(%s)", class)
	rows, err := s.pool.Query(ctx, `
		SELECT entry_id, endpoint, phone_key, secret, language, told_round
		FROM reminder
		WHERE class_id = @class
		ORDER BY entry_id, endpoint`, pgx.NamedArgs{"class": class})
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (remind.Reminder, error) {
		r := remind.Reminder{Class: class}
		var told *uuid.UUID
		err := row.Scan(&r.Entry, &r.Phone.Endpoint, &r.Phone.Key, &r.Phone.Secret, &r.Phone.Language, &told)
		if told != nil {
			r.Told = *told
		}
		return r, err
	})
}

// ClaimReminder notes the round in which a phone is told; see the Store of remind. The nil UUID takes the note back.
func (s *Store) ClaimReminder(ctx context.Context, r remind.Reminder, round uuid.UUID) (first bool, err error) {
	defer wrap(&err, "ClaimReminder(%s)", r.Entry)
	var told *uuid.UUID
	if round != uuid.Nil {
		told = &round
	}
	err = s.pool.QueryRow(ctx, `
		UPDATE reminder
		SET told_round = @told
		WHERE entry_id = @entry AND endpoint = @endpoint AND told_round IS DISTINCT FROM @told
		RETURNING true`, pgx.NamedArgs{"entry": r.Entry, "endpoint": r.Phone.Endpoint, "told": told}).Scan(&first)
	if errors.Is(err, pgx.ErrNoRows) {
		return false, nil
	}
	return first, err
}

// Reminded reads the classes for which there are wishes; see the Store of remind.
func (s *Store) Reminded(ctx context.Context) (refs []desk.Ref, err error) {
	defer wrap(&err, "Reminded")
	rows, err := s.pool.Query(ctx, `
		SELECT DISTINCT e.slug, c.slug
		FROM reminder r
		JOIN class c ON c.id = r.class_id
		JOIN event e ON e.id = c.event_id
		ORDER BY e.slug, c.slug`)
	if err != nil {
		return nil, err
	}
	return pgx.CollectRows(rows, func(row pgx.CollectableRow) (ref desk.Ref, err error) {
		err = row.Scan(&ref.Event, &ref.Class)
		return ref, err
	})
}
