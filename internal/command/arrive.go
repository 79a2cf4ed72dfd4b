package command

import (
	"bufio"
	"bytes"
	"fmt"
	"io"

	"oidium/internal/ledger"
	"oidium/internal/tables"
	"oidium/internal/work"
)

// zipMark begins a zip file, which a package of tables is.
var zipMark = []byte("PK\x03\x04")

// mostPackage is the largest package of tables that is read, bytes.
const mostPackage = 1 << 30

// entriesIn reads the entries of a file: lines, or a package of tables.
func (s *streams) entriesIn(name string) ([]ledger.Entry, []ledger.Problem, error) {
	f, err := s.open(name)
	if err != nil {
		return nil, nil, err
	}
	defer f.Close()
	r := bufio.NewReader(f)
	var (
		entries  []ledger.Entry
		problems []ledger.Problem
	)
	if mark, _ := r.Peek(len(zipMark)); bytes.Equal(mark, zipMark) { // a short file is none
		b, readErr := io.ReadAll(io.LimitReader(r, mostPackage))
		if readErr != nil {
			return nil, nil, fmt.Errorf("reading %s: %w", name, readErr)
		}
		entries, problems, err = tables.Read(bytes.NewReader(b), int64(len(b)), work.Vocabulary())
	} else {
		entries, problems, err = ledger.Read(r, work.Vocabulary())
	}
	if err != nil {
		return nil, nil, fmt.Errorf("reading %s: %w", name, err)
	}
	return entries, problems, nil
}
