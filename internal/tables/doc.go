// Package tables writes the ledger as plain tables and reads them back without
// loss: a zip file with one CSV table for each kind of entry, one for each list
// inside an entry, the pictures as files, and a descriptor that names, explains
// and types every column (Frictionless Data Package with Table Schema). It is
// for spreadsheets, statistics and keeping; the lines of package ledger stay the
// form in which entries travel.
//
// The columns are made from the JSON Schema of the lines; docs/format-tables.md
// says how. Start at [Write] and [Read].
package tables
