// Package store keeps the ledger in one SQLite file, the book. A book may hold
// many gardens. What [Book.Append] has acknowledged is on the disk: the write
// is one transaction and the log is synced before the call returns. Several
// processes may have the same book open; one writes at a time, the others wait.
//
// Entries are never changed. An id that is there already is passed over when
// its entry says the same, and is an error naming both when it does not.
//
// The statements are portable SQL (binds by number, no conversion of types by
// the engine); only the migrations are written for SQLite. Hourly weather is
// kept packed, one row for each entry and day; see docs/format-book.md.
//
// Start at [Open]. What the lines mean is in package ledger.
package store
