package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"time"

	"oidium/internal/ledger"
)

// conflict is the error that an id is in the book already and says something else.
type conflict struct {
	ID        string
	Have, New string // the two lines
	Line      int    // of the new one in its file, 0 when not from one
}

// Error names both entries.
func (c *conflict) Error() string {
	at := ""
	if c.Line > 0 {
		at = fmt.Sprintf("line %d: ", c.Line)
	}
	return fmt.Sprintf("%sthe id %s is in the book already and says something else: make a new id for each entry; to correct one, write a new entry with replaces\n  in the book: %s\n  new:         %s", at, c.ID, short(c.Have), short(c.New))
}

func short(s string) string {
	if len(s) > 400 {
		return s[:400] + " ..."
	}
	return s
}

// Append writes entries in one transaction: all of them or, on an error, none.
// When it returns they are on the disk. same counts those that were there
// already. An id that is there and says something else is an error that names both.
//
// A blanking among the entries takes the personal parts and pictures out of
// those it names, and overwrites them in the file. Entries that come after it
// are blanked as they arrive.
func (b *Book) Append(ctx context.Context, entries []ledger.Entry) (added, same int, err error) {
	if len(entries) == 0 {
		return 0, 0, nil
	}
	added, same, err = b.append(ctx, entries)
	if err != nil {
		var c *conflict
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
	w := writer{ctx: ctx, tx: tx, received: time.Now().UnixMilli()}
	if w.garden, err = b.gardenID(ctx, tx); err != nil {
		return 0, 0, err
	}
	if err := w.prepare(); err != nil {
		return 0, 0, err
	}
	defer w.close()
	for _, e := range entries {
		fresh, err := w.put(e)
		if err != nil {
			return 0, 0, err
		}
		if fresh {
			added++
		} else {
			same++
		}
	}
	if err := tx.Commit(); err != nil {
		return 0, 0, err
	}
	if w.blanked {
		// Without this the name would stand in the log until it is next emptied.
		// That another process reads meanwhile is no error.
		_, err = b.file.write.ExecContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)")
	}
	return added, same, err
}

func ignoreDone(err error) error {
	if errors.Is(err, sql.ErrTxDone) {
		return nil
	}
	return err
}

const (
	findGarden   = `SELECT id FROM garden WHERE name = $1`
	insertGarden = `INSERT INTO garden (id, name) SELECT coalesce(max(id), 0) + 1, $1 FROM garden`
)

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
