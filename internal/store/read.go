package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"oidium/internal/ledger"
)

const (
	selectEntry = `SELECT seq, id, line, open_sum, blanked, personal, salt, seal FROM entry WHERE garden = $1`
	selectDays  = `SELECT seq, day, data FROM weather_day WHERE garden = $1 ORDER BY seq, day`
	selectDay   = `SELECT seq, day, data FROM weather_day WHERE garden = $1 AND seq = $2 ORDER BY day`
)

// Filter says which entries are wanted. The zero value wants all.
type Filter struct {
	Kinds  []string  // of these kinds; none given: of all
	AsOf   time.Time // neither spoken of nor written later; zero: whenever
	Photos bool      // with the pictures in the lines of photos
}

// Entries returns the entries of the garden in the order of their arrival.
func (b *Book) Entries(ctx context.Context, f Filter) ([]ledger.Entry, error) {
	out, err := b.entries(ctx, f)
	if err != nil {
		return nil, fmt.Errorf("reading the book %s: %w", b.file.path, explain(err))
	}
	return out, nil
}

func (b *Book) entries(ctx context.Context, f Filter) ([]ledger.Entry, error) {
	// One transaction, so that the entries and their weather are of one moment.
	tx, err := b.file.reads.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return nil, err
	}
	defer tx.Rollback() // it only reads
	var garden int64
	err = tx.QueryRowContext(ctx, findGarden, b.garden).Scan(&garden)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	query, args := selectEntry, []any{garden}
	bind := func(v any) string {
		args = append(args, v)
		return "$" + strconv.Itoa(len(args))
	}
	if len(f.Kinds) > 0 {
		var in []string
		for _, k := range f.Kinds {
			in = append(in, bind(k))
		}
		query += " AND kind IN (" + strings.Join(in, ", ") + ")"
	}
	if !f.AsOf.IsZero() {
		ms := f.AsOf.UnixMilli()
		query += " AND time <= " + bind(ms) + " AND written <= " + bind(ms)
	}
	entries, err := readEntries(ctx, tx, garden, 0, query+" ORDER BY seq", args...)
	if err != nil {
		return nil, err
	}
	if !f.AsOf.IsZero() {
		entries = slices.DeleteFunc(entries, func(e ledger.Entry) bool { return !e.Known(f.AsOf) })
	}
	if f.Photos {
		return withPhotos(ctx, tx, garden, entries)
	}
	return entries, nil
}

// readEntries reads the entries of a query on [selectEntry], with their weather.
// seq 0 means that the query may give any entry of the garden.
func readEntries(ctx context.Context, tx *sql.Tx, garden, seq int64, query string, args ...any) ([]ledger.Entry, error) {
	days, err := readDays(ctx, tx, garden, seq)
	if err != nil {
		return nil, err
	}
	rows, err := tx.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []ledger.Entry
	for rows.Next() {
		var n int64
		var id string
		var openSum, salt, seal []byte
		var p ledger.Parts
		if err := rows.Scan(&n, &id, &p.Open, &openSum, &p.Blanked, &p.Personal, &salt, &seal); err != nil {
			return nil, err
		}
		if d := days[n]; d != nil {
			if p.Hours, err = unpackDays(d); err != nil {
				return nil, fmt.Errorf("entry %s: %w", id, err)
			}
		}
		e, err := p.Entry()
		if err != nil {
			return nil, fmt.Errorf("entry %s in the book cannot be read: %w", id, err)
		}
		if string(e.ID) != id || !sound(openSum, e, p.Blanked, p.Personal, salt, seal) {
			return nil, fmt.Errorf("entry %s in the book is damaged: its checksum does not match", id)
		}
		out = append(out, e)
	}
	return out, rows.Err()
}

func readDays(ctx context.Context, tx *sql.Tx, garden, seq int64) (map[int64][]dayHours, error) {
	query, args := selectDays, []any{garden}
	if seq != 0 {
		query, args = selectDay, []any{garden, seq}
	}
	rows, err := tx.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[int64][]dayHours{}
	for rows.Next() {
		var n int64
		var d dayHours
		if err := rows.Scan(&n, &d.day, &d.data); err != nil {
			return nil, err
		}
		out[n] = append(out[n], d)
	}
	return out, rows.Err()
}

// withPhotos puts the pictures into the entries of photos.
func withPhotos(ctx context.Context, tx *sql.Tx, garden int64, entries []ledger.Entry) ([]ledger.Entry, error) {
	rows, err := tx.QueryContext(ctx, `SELECT e.id, p.data FROM photo p JOIN entry e ON e.garden = p.garden AND e.seq = p.seq WHERE p.garden = $1 ORDER BY p.seq`, garden)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	at := map[string]int{}
	for i, e := range entries {
		at[string(e.ID)] = i
	}
	for rows.Next() {
		var id string
		var data []byte
		if err := rows.Scan(&id, &data); err != nil {
			return nil, err
		}
		i, ok := at[id]
		if !ok {
			continue
		}
		p := entries[i].Parts()
		p.Photo = data
		if entries[i], err = p.Entry(); err != nil {
			return nil, fmt.Errorf("the picture of %s is damaged: %w", id, err)
		}
	}
	return entries, rows.Err()
}
