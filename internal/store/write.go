package store

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"

	"oidium/internal/ledger"
)

const (
	lastOfGarden = `SELECT seq, chain FROM entry WHERE garden = $1 ORDER BY seq DESC LIMIT 1`
	findEntry    = `SELECT seq FROM entry WHERE garden = $1 AND id = $2`
	insertEntry  = `INSERT INTO entry (garden, seq, id, kind, bed, time, written, received, line, open_sum, blanked, personal, salt, seal, chain)
		VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)`
	insertDay    = `INSERT INTO weather_day (garden, seq, day, data) VALUES ($1, $2, $3, $4)`
	insertPhoto  = `INSERT INTO photo (garden, seq, data) VALUES ($1, $2, $3) ON CONFLICT (garden, seq) DO NOTHING`
	deletePhoto  = `DELETE FROM photo WHERE garden = $1 AND seq = $2`
	insertBlank  = `INSERT INTO blanking (garden, entry, seq) VALUES ($1, $2, $3) ON CONFLICT (garden, entry, seq) DO NOTHING`
	findBlanks   = `SELECT seq FROM blanking WHERE garden = $1 AND entry = $2 ORDER BY seq`
	blankedEntry = `UPDATE entry SET blanked = 1, personal = $3, salt = NULL WHERE garden = $1 AND seq = $2`
)

// writer writes the entries of one transaction.
type writer struct {
	ctx      context.Context
	tx       *sql.Tx
	garden   int64
	received int64
	seq      int64  // of the last entry
	chain    []byte // after it
	blanked  bool   // something was taken out

	find, entry, day, blanks *sql.Stmt
}

func (w *writer) prepare() error {
	err := w.tx.QueryRowContext(w.ctx, lastOfGarden, w.garden).Scan(&w.seq, &w.chain)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	for _, s := range []struct {
		to  **sql.Stmt
		sql string
	}{{&w.find, findEntry}, {&w.entry, insertEntry}, {&w.day, insertDay}, {&w.blanks, findBlanks}} {
		if *s.to, err = w.tx.PrepareContext(w.ctx, s.sql); err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) close() {
	for _, s := range []*sql.Stmt{w.find, w.entry, w.day, w.blanks} {
		if s != nil {
			_ = s.Close() // the transaction is over; nothing depends on it
		}
	}
}

// put writes an entry unless it is there. fresh tells that it was not.
func (w *writer) put(e ledger.Entry) (fresh bool, err error) {
	var have int64
	err = w.find.QueryRowContext(w.ctx, w.garden, string(e.ID)).Scan(&have)
	switch {
	case err == nil:
		return false, w.compare(have, e)
	case !errors.Is(err, sql.ErrNoRows):
		return false, err
	}
	if e, err = w.blankedBefore(e); err != nil {
		return false, err
	}
	if err := w.insert(e); err != nil {
		return false, err
	}
	if b, ok := e.Body.(*ledger.Blanking); ok {
		return true, w.blank(b)
	}
	return true, nil
}

func (w *writer) insert(e ledger.Entry) error {
	p := e.Parts()
	salt, seal := sealPersonal(p.Personal)
	if p.Blanked {
		salt = nil // what was taken out elsewhere has no seal here
	}
	open := e.OpenSum()
	w.seq++
	w.chain = nextChain(w.chain, open[:], seal)
	blanked := 0
	if p.Blanked {
		blanked = 1
	}
	if _, err := w.entry.ExecContext(w.ctx, w.garden, w.seq, string(e.ID), e.Kind, string(e.Bed),
		e.Time.UnixMilli(), e.Written.UnixMilli(), w.received, p.Open, open[:], blanked, p.Personal, salt, seal, w.chain); err != nil {
		return err
	}
	if p.Hours != nil {
		for _, d := range packDays(p.Hours) {
			if _, err := w.day.ExecContext(w.ctx, w.garden, w.seq, d.day, d.data); err != nil {
				return err
			}
		}
	}
	return w.picture(w.seq, p.Photo)
}

func (w *writer) picture(seq int64, data []byte) error {
	if data == nil {
		return nil
	}
	_, err := w.tx.ExecContext(w.ctx, insertPhoto, w.garden, seq, data)
	return err
}

// compare tells whether the entry that is there says the same, and keeps the
// picture when only the new line has it.
func (w *writer) compare(seq int64, e ledger.Entry) error {
	have, err := w.get(seq)
	if err != nil {
		return err
	}
	if !have.SameAs(e) {
		return &conflict{ID: string(e.ID), Have: string(have.Line()), New: string(e.Line()), Line: e.FromLine}
	}
	if have.Blanked {
		return nil
	}
	if p := e.Parts(); p.Photo != nil {
		return w.picture(seq, p.Photo)
	}
	return nil
}

func (w *writer) get(seq int64) (ledger.Entry, error) {
	got, err := readEntries(w.ctx, w.tx, w.garden, seq, selectEntry+` AND seq = $2`, w.garden, seq)
	if err != nil {
		return ledger.Entry{}, err
	}
	if len(got) != 1 {
		return ledger.Entry{}, fmt.Errorf("entry %d of garden %d is gone", seq, w.garden)
	}
	return got[0], nil
}

// blankedBefore applies the blankings that arrived before the entry did.
func (w *writer) blankedBefore(e ledger.Entry) (ledger.Entry, error) {
	seqs, err := queryInts(w.ctx, w.blanks, w.garden, string(e.ID))
	if err != nil {
		return e, err
	}
	var all []ledger.Entry
	for _, s := range seqs {
		b, err := w.get(s)
		if err != nil {
			return e, err
		}
		all = append(all, b)
	}
	for _, b := range ledger.Blankings(all) {
		if e, err = b.Blank(e); err != nil {
			return e, err
		}
	}
	return e, nil
}

// blank notes the entries a blanking names and takes out what is there of them.
func (w *writer) blank(b *ledger.Blanking) error {
	for _, id := range b.Entries {
		if _, err := w.tx.ExecContext(w.ctx, insertBlank, w.garden, id, w.seq); err != nil {
			return err
		}
		var seq int64
		err := w.find.QueryRowContext(w.ctx, w.garden, id).Scan(&seq)
		if errors.Is(err, sql.ErrNoRows) {
			continue
		}
		if err != nil {
			return err
		}
		have, err := w.get(seq)
		if err != nil {
			return err
		}
		blanked, err := w.blankedBefore(have)
		if err != nil {
			return err
		}
		w.blanked = true
		if _, err := w.tx.ExecContext(w.ctx, blankedEntry, w.garden, seq, blanked.Parts().Personal); err != nil {
			return err
		}
		if b.What == "photo" {
			if _, err := w.tx.ExecContext(w.ctx, deletePhoto, w.garden, seq); err != nil {
				return err
			}
		}
	}
	return nil
}

func queryInts(ctx context.Context, s *sql.Stmt, args ...any) ([]int64, error) {
	rows, err := s.QueryContext(ctx, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []int64
	for rows.Next() {
		var n int64
		if err := rows.Scan(&n); err != nil {
			return nil, err
		}
		out = append(out, n)
	}
	return out, rows.Err()
}

// sound tells whether what was read of an entry is what was written.
func sound(openSum []byte, e ledger.Entry, blanked bool, personal, salt, seal []byte) bool {
	got := e.OpenSum()
	if !bytes.Equal(got[:], openSum) {
		return false
	}
	if blanked {
		return salt == nil
	}
	if personal == nil {
		return bytes.Equal(seal, noSeal)
	}
	return bytes.Equal(seal, sealWith(salt, personal))
}
