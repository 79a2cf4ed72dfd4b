package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"github.com/pressly/goose/v3"
	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

//go:embed migrations/*.sql
var migrations embed.FS

// schemaVersion is the number of the last migration.
const schemaVersion = 1

// applicationID marks a SQLite file as a book: "oidi" in ASCII.
const applicationID = 0x6f696469

// readers is how many connections may read at once.
const readers = 4

// Book is one garden of an open file. Its methods may be used from several
// goroutines.
type Book struct {
	file   *file
	garden string
}

// file is an open SQLite file: one connection that writes, a few that read.
type file struct {
	path, abs    string // as given, and from the root
	write, reads *sql.DB
}

// Open opens the book at path and makes it when it is not there.
func Open(ctx context.Context, path string) (*Book, error) {
	return open(ctx, path)
}

// Garden returns another garden of the same file; "" is the one a file begins
// with. It is made when the first entry is written to it.
func (b *Book) Garden(name string) *Book { return &Book{file: b.file, garden: name} }

// Begun tells whether anything was ever written to this garden of the file.
func (b *Book) Begun(ctx context.Context) (bool, error) {
	var n int64
	err := b.file.reads.QueryRowContext(ctx, findGarden, b.garden).Scan(&n)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	if err != nil {
		return false, fmt.Errorf("reading the book %s: %w", b.file.path, explain(err))
	}
	return true, nil
}

// Gardens returns the names of the gardens that have entries, in the order in
// which they came.
func (b *Book) Gardens(ctx context.Context) ([]string, error) {
	rows, err := b.file.reads.QueryContext(ctx, "SELECT name FROM garden ORDER BY id")
	if err != nil {
		return nil, fmt.Errorf("reading the book %s: %w", b.file.path, explain(err))
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			return nil, fmt.Errorf("reading the book %s: %w", b.file.path, explain(err))
		}
		out = append(out, name)
	}
	return out, rows.Err()
}

// OpenExisting opens the book at path; the error is that there is none, or that
// it is not a book.
func OpenExisting(ctx context.Context, path string) (*Book, error) {
	if _, err := os.Stat(path); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("opening the book: there is no file %q", path)
		}
		return nil, fmt.Errorf("opening the book: %w", err)
	}
	return open(ctx, path)
}

func open(ctx context.Context, path string) (*Book, error) {
	if path == "" {
		return nil, errors.New("opening the book: no path given")
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, fmt.Errorf("opening the book: %w", err)
	}
	if st, err := os.Stat(filepath.Dir(abs)); err != nil || !st.IsDir() {
		return nil, fmt.Errorf("opening the book %s: its folder is not there; make it first", path)
	}
	f := &file{path: path, abs: abs}
	if f.write, err = connect(abs, 1, false); err != nil {
		return nil, fmt.Errorf("opening the book %s: %w", path, err)
	}
	if f.reads, err = connect(abs, readers, true); err != nil {
		return nil, errors.Join(fmt.Errorf("opening the book %s: %w", path, err), f.write.Close())
	}
	if err := f.migrate(ctx); err != nil {
		return nil, errors.Join(fmt.Errorf("opening the book %s: %w", path, explain(err)), f.close())
	}
	return &Book{file: f}, nil
}

// connect prepares a pool of connections. Those for reading cannot write.
func connect(abs string, n int, readOnly bool) (*sql.DB, error) {
	q := url.Values{"_pragma": {
		"busy_timeout(10000)", "journal_mode(WAL)", "synchronous(FULL)",
		"foreign_keys(1)", "cache_size(-65536)",
	}}
	if readOnly {
		q.Add("_pragma", "query_only(1)")
	} else {
		q.Set("_txlock", "immediate")        // a writer waits at its beginning, not in its middle
		q.Add("_pragma", "secure_delete(1)") // what a blanking takes out is overwritten
	}
	dsn := url.URL{Scheme: "file", Path: filepath.ToSlash(abs), RawQuery: q.Encode()}
	db, err := sql.Open("sqlite", dsn.String())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(n)
	db.SetMaxIdleConns(n)
	return db, nil
}

// migrate brings the file to the schema of this program. When several processes
// come at once one does the work; the others find it done.
func (f *file) migrate(ctx context.Context) error {
	var err error
	for try := range 40 {
		if try > 0 {
			select {
			case <-ctx.Done():
				return ctx.Err()
			case <-time.After(25 * time.Millisecond):
			}
		}
		var have int64
		if have, err = f.version(ctx); err == nil {
			if have == schemaVersion {
				return nil
			}
			if have > schemaVersion {
				return fmt.Errorf("a newer program made it (schema %d, this program knows %d): use that program", have, schemaVersion)
			}
			if err = f.up(ctx); err == nil {
				return nil
			}
		}
		if errors.Is(err, errForeign) || sqliteCode(err) == sqlite3.SQLITE_NOTADB {
			return err
		}
	}
	return err
}

var errForeign = errors.New("it is a SQLite file of another program")

// version returns the number of the last migration the file has had, 0 for a
// new file.
func (f *file) version(ctx context.Context) (int64, error) {
	var id, tables int64
	if err := f.write.QueryRowContext(ctx, "PRAGMA application_id").Scan(&id); err != nil {
		return 0, err
	}
	if err := f.write.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_master WHERE name = 'entry'").Scan(&tables); err != nil {
		return 0, err
	}
	if id != applicationID {
		var any int64
		if err := f.write.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_master WHERE name <> 'goose_db_version' AND name <> 'sqlite_sequence'").Scan(&any); err != nil {
			return 0, err
		}
		if id != 0 || any > 0 {
			return 0, errForeign
		}
		return 0, nil
	}
	if tables == 0 {
		return 0, nil
	}
	var v int64
	err := f.write.QueryRowContext(ctx, "SELECT max(version_id) FROM goose_db_version").Scan(&v)
	return v, err
}

func (f *file) up(ctx context.Context) error {
	sub, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(goose.DialectSQLite3, f.write, sub, goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return err
	}
	_, err = p.Up(ctx)
	return err
}

func (f *file) close() error { return errors.Join(f.reads.Close(), f.write.Close()) }

// Close closes the book and every garden of it.
func (b *Book) Close() error { return b.file.close() }

// sqliteCode returns the primary result code of a SQLite error, or -1.
func sqliteCode(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code() & 0xff
	}
	return -1
}

// explain puts a hint to the errors of SQLite that a user can do something about.
func explain(err error) error {
	hint := ""
	switch sqliteCode(err) {
	case sqlite3.SQLITE_NOTADB:
		hint = "this file is not a book"
	case sqlite3.SQLITE_CORRUPT:
		hint = "the file is damaged: restore the last backup, or export what can be read"
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		hint = "another program has been writing to it for too long: close it and try again"
	case sqlite3.SQLITE_FULL:
		hint = "the disk is full"
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM:
		hint = "may this user write to the file and its folder?"
	default:
		return err
	}
	return fmt.Errorf("%w (%s)", err, hint)
}
