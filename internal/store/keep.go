package store

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Report is what a look through the whole book found.
type Report struct {
	Gardens  int      `json:"gardens" doc:"gardens in the file"`
	Entries  int      `json:"entries" doc:"entries in all of them"`
	Blanked  int      `json:"blanked" doc:"entries with something taken out"`
	Chain    string   `json:"chain" doc:"end of the chain of this garden; written down elsewhere, it shows later that nothing before it was changed or left out"`
	Problems []string `json:"problems" doc:"what is wrong; empty when the book is sound"`
}

// Check looks through the whole file: the pages, every entry against its
// checksum, every chain. The error is that it could not look; what is wrong is
// in the report.
func (b *Book) Check(ctx context.Context) (Report, error) {
	r := Report{Problems: []string{}}
	tx, err := b.file.reads.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return r, fmt.Errorf("checking the book %s: %w", b.file.path, explain(err))
	}
	defer tx.Rollback() // it only reads
	for _, step := range []func(context.Context, *sql.Tx, *Report) error{checkPages, b.checkGardens} {
		if err := step(ctx, tx, &r); err != nil {
			return r, fmt.Errorf("checking the book %s: %w", b.file.path, explain(err))
		}
	}
	return r, nil
}

func checkPages(ctx context.Context, tx *sql.Tx, r *Report) error {
	rows, err := tx.QueryContext(ctx, "PRAGMA integrity_check")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return err
		}
		if s != "ok" {
			r.Problems = append(r.Problems, "pages: "+s)
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	loose, err := tx.QueryContext(ctx, "PRAGMA foreign_key_check")
	if err != nil {
		return err
	}
	defer loose.Close()
	for loose.Next() {
		r.Problems = append(r.Problems, "pages: a row belongs to no entry")
	}
	return loose.Err()
}

func (b *Book) checkGardens(ctx context.Context, tx *sql.Tx, r *Report) error {
	rows, err := tx.QueryContext(ctx, "SELECT id, name FROM garden ORDER BY id")
	if err != nil {
		return err
	}
	defer rows.Close()
	type named struct {
		id   int64
		name string
	}
	var all []named
	for rows.Next() {
		var g named
		if err := rows.Scan(&g.id, &g.name); err != nil {
			return err
		}
		all = append(all, g)
	}
	if err := rows.Err(); err != nil {
		return err
	}
	for _, g := range all {
		r.Gardens++
		end, err := checkChain(ctx, tx, g.id, r)
		if err != nil {
			return err
		}
		if g.name == b.garden {
			r.Chain = hex.EncodeToString(end)
		}
		if _, err := readEntries(ctx, tx, g.id, 0, selectEntry+" ORDER BY seq", g.id); err != nil {
			r.Problems = append(r.Problems, err.Error())
		}
	}
	return nil
}

// checkChain follows the chain of a garden to its end.
func checkChain(ctx context.Context, tx *sql.Tx, garden int64, r *Report) ([]byte, error) {
	rows, err := tx.QueryContext(ctx, "SELECT seq, id, open_sum, seal, chain, blanked FROM entry WHERE garden = $1 ORDER BY seq", garden)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var end []byte
	broken := false
	for n := int64(1); rows.Next(); n++ {
		var seq int64
		var id string
		var openSum, seal, chain []byte
		var blanked bool
		if err := rows.Scan(&seq, &id, &openSum, &seal, &chain, &blanked); err != nil {
			return nil, err
		}
		r.Entries++
		if blanked {
			r.Blanked++
		}
		end = nextChain(end, openSum, seal)
		if (seq != n || !bytes.Equal(end, chain)) && !broken {
			broken = true // everything after it differs too
			r.Problems = append(r.Problems, fmt.Sprintf("the chain breaks at entry %s: it, or one before it, was changed or removed", id))
		}
	}
	return end, rows.Err()
}

// Backup writes a copy of the book to path while it is in use. The copy is of
// one moment, is checked before it takes its name, and is on the disk when the
// call returns. A file that is there is not overwritten.
func (b *Book) Backup(ctx context.Context, path string) error {
	return copyBook(ctx, b, path, "backing up the book "+b.file.path)
}

// Restore makes the book at path from a backup. A book that is there is not
// overwritten: to bring a backup and a book together, import the one into the
// other.
func Restore(ctx context.Context, backup, path string) error {
	b, err := OpenExisting(ctx, backup)
	if err != nil {
		return fmt.Errorf("restoring %s: %w", path, err)
	}
	return errors.Join(copyBook(ctx, b, path, "restoring the book "+path+" from "+backup), b.Close())
}

func copyBook(ctx context.Context, b *Book, path, doing string) (err error) {
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: there is something at %s already; give another name", doing, path)
	}
	part := path + ".part"
	if err := os.Remove(part); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: %w", doing, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(fmt.Errorf("%s: %w", doing, explain(err)), ignoreGone(os.Remove(part)))
		}
	}()
	if err := vacuumInto(ctx, b.file.abs, part); err != nil {
		return err
	}
	if err := checkCopy(ctx, part); err != nil {
		return err
	}
	if err := syncFile(part); err != nil {
		return err
	}
	if err := os.Rename(part, path); err != nil {
		return err
	}
	return syncFile(filepath.Dir(path))
}

// vacuumInto copies through SQLite, so that the copy is of one moment, the log
// included. It has a connection of its own: those of the book either may not
// write, not even a copy, or are wanted by writers meanwhile.
func vacuumInto(ctx context.Context, abs, part string) error {
	db, err := connect(abs, 1, false)
	if err != nil {
		return err
	}
	_, err = db.ExecContext(ctx, "VACUUM INTO $1", part)
	return errors.Join(err, db.Close())
}

func checkCopy(ctx context.Context, part string) error {
	c, err := open(ctx, part)
	if err != nil {
		return err
	}
	r, err := c.Check(ctx)
	if err = errors.Join(err, c.Close()); err != nil {
		return err
	}
	if len(r.Problems) > 0 {
		return fmt.Errorf("the book is not sound: %s", r.Problems[0])
	}
	return nil
}

func ignoreGone(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// syncFile brings a file, or the names in a folder, onto the disk.
func syncFile(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
