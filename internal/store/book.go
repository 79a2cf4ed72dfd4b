package store

import (
	"bytes"
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

// statements are the SQL of the book, portable between engines.
const (
	findGarden   = `SELECT id FROM garden WHERE name = $1`
	insertGarden = `INSERT INTO garden (id, name) SELECT coalesce(max(id), 0) + 1, $1 FROM garden`
	lastSeq      = `SELECT coalesce(max(seq), 0) FROM entry WHERE garden = $1`
	findEntry    = `SELECT seq, sum FROM entry WHERE garden = $1 AND id = $2`
	insertEntry  = `INSERT INTO entry (garden, seq, id, kind, bed, time, written, received, sum, line) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`
	insertDay    = `INSERT INTO weather_day (garden, seq, day, data) VALUES ($1, $2, $3, $4)`
	selectEntry  = `SELECT seq, id, sum, line FROM entry WHERE garden = $1`
	selectDays   = `SELECT d.seq, d.day, d.data FROM weather_day d WHERE d.garden = $1 ORDER BY d.seq, d.day`
	selectDay    = `SELECT d.seq, d.day, d.data FROM weather_day d WHERE d.garden = $1 AND d.seq = $2 ORDER BY d.day`
)

// Conflict is the error that an id is in the book already and says something else.
type Conflict struct {
	ID        string
	Have, New string // the two lines
}

// Error names both entries.
func (c *Conflict) Error() string {
	return fmt.Sprintf("the id %s is in the book already and says something else: make a new id for each entry; to correct one, write a new entry with replaces\n  in the book: %s\n  new:         %s", c.ID, short(c.Have), short(c.New))
}

func short(s string) string {
	if len(s) > 400 {
		return s[:400] + " ..."
	}
	return s
}

// Append writes entries in one transaction: all of them or, on an error, none.
// When it returns they are on the disk. same counts those that were there
// already. An id that is there and says something else gives a [*Conflict].
func (b *Book) Append(ctx context.Context, entries []ledger.Entry) (added, same int, err error) {
	if len(entries) == 0 {
		return 0, 0, nil
	}
	added, same, err = b.append(ctx, entries)
	if err != nil {
		var c *Conflict
		if errors.As(err, &c) {
			return 0, 0, err
		}
		return 0, 0, fmt.Errorf("writing %d entries to the book %s: %w", len(entries), b.file.path, explain(err))
	}
	return added, same, nil
}

func (b *Book) append(ctx context.Context, entries []ledger.Entry) (added, same int, err error) {
	tx, err := b.file.write.BeginTx(ctx, nil)
	if err != nil {
		return 0, 0, err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, ignoreDone(tx.Rollback()))
		}
	}()
	garden, err := b.gardenID(ctx, tx)
	if err != nil {
		return 0, 0, err
	}
	var seq int64
	if err := tx.QueryRowContext(ctx, lastSeq, garden).Scan(&seq); err != nil {
		return 0, 0, err
	}
	w := writer{ctx: ctx, tx: tx, garden: garden, received: time.Now().UnixMilli()}
	if err := w.prepare(); err != nil {
		return 0, 0, err
	}
	defer w.close()
	for _, e := range entries {
		fresh, err := w.put(seq+1, e)
		if err != nil {
			return 0, 0, err
		}
		if fresh {
			seq++
			added++
		} else {
			same++
		}
	}
	return added, same, tx.Commit()
}

func ignoreDone(err error) error {
	if errors.Is(err, sql.ErrTxDone) {
		return nil
	}
	return err
}

// gardenID returns the number of the garden in the file and makes it on first use.
func (b *Book) gardenID(ctx context.Context, tx *sql.Tx) (int64, error) {
	var n int64
	err := tx.QueryRowContext(ctx, findGarden, b.garden).Scan(&n)
	if !errors.Is(err, sql.ErrNoRows) {
		return n, err
	}
	if _, err := tx.ExecContext(ctx, insertGarden, b.garden); err != nil {
		return 0, err
	}
	err = tx.QueryRowContext(ctx, findGarden, b.garden).Scan(&n)
	return n, err
}

// writer writes the entries of one transaction.
type writer struct {
	ctx             context.Context
	tx              *sql.Tx
	garden          int64
	received        int64
	find, put1, day *sql.Stmt
}

func (w *writer) prepare() (err error) {
	for _, s := range []struct {
		to  **sql.Stmt
		sql string
	}{{&w.find, findEntry}, {&w.put1, insertEntry}, {&w.day, insertDay}} {
		if *s.to, err = w.tx.PrepareContext(w.ctx, s.sql); err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) close() {
	for _, s := range []*sql.Stmt{w.find, w.put1, w.day} {
		if s != nil {
			_ = s.Close() // the transaction is over; nothing depends on it
		}
	}
}

// put writes an entry unless it is there. fresh tells that it was not.
func (w *writer) put(seq int64, e ledger.Entry) (fresh bool, err error) {
	sum := e.Sum()
	var haveSeq int64
	var haveSum []byte
	err = w.find.QueryRowContext(w.ctx, w.garden, string(e.ID)).Scan(&haveSeq, &haveSum)
	switch {
	case err == nil && bytes.Equal(haveSum, sum[:]):
		return false, nil
	case err == nil:
		return false, w.conflict(haveSeq, e)
	case !errors.Is(err, sql.ErrNoRows):
		return false, err
	}
	line, hours := e.Slim()
	if _, err := w.put1.ExecContext(w.ctx, w.garden, seq, string(e.ID), e.Kind, string(e.Bed),
		e.Time.UnixMilli(), e.Written.UnixMilli(), w.received, sum[:], line); err != nil {
		return false, err
	}
	if hours != nil {
		for _, d := range packDays(hours) {
			if _, err := w.day.ExecContext(w.ctx, w.garden, seq, d.day, d.data); err != nil {
				return false, err
			}
		}
	}
	return true, nil
}

func (w *writer) conflict(seq int64, e ledger.Entry) error {
	c := &Conflict{ID: string(e.ID), New: string(e.Line())}
	rows, err := readEntries(w.ctx, w.tx, w.garden, seq, selectEntry+` AND seq = $2`, w.garden, seq)
	if err != nil {
		return err
	}
	for _, have := range rows {
		c.Have = string(have.Line())
	}
	return c
}

// Filter says which entries are wanted. The zero value wants all.
type Filter struct {
	Kinds []string  // of these kinds; none given: of all
	AsOf  time.Time // neither spoken of nor written later; zero: whenever
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
	if err != nil || f.AsOf.IsZero() {
		return entries, err
	}
	return slices.DeleteFunc(entries, func(e ledger.Entry) bool { return !e.Known(f.AsOf) }), nil
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
		var sum, line []byte
		if err := rows.Scan(&n, &id, &sum, &line); err != nil {
			return nil, err
		}
		var hours *ledger.Hours
		if d := days[n]; d != nil {
			if hours, err = unpackDays(d); err != nil {
				return nil, fmt.Errorf("entry %s: %w", id, err)
			}
		}
		e, err := ledger.Restore(line, hours)
		if err != nil {
			return nil, fmt.Errorf("entry %s in the book cannot be read: %w", id, err)
		}
		if got := e.Sum(); string(e.ID) != id || !bytes.Equal(got[:], sum) {
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
