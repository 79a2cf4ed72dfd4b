// Package ledger holds the only truth of the program: an append-only list of
// entries. A line of JSON is one entry; [Read] and [ParseLine] check it strictly
// and say what is wrong, where, and how to mend it. [Fold] turns entries into a
// garden as known at one instant; the order in which entries arrived, the number
// of devices they came from and repetition change nothing. [Weather] gives the
// weather and the forecasts among them.
//
// Nothing is edited or deleted. A correction is a new entry that names the one
// it replaces; the later written of two wins, ties go by id, and both are kept.
//
// Units in a body are in the name of the field (length_m, amount_kg) or SI; a
// share is from 0 to 1; times carry a zone; a date is in the garden's own zone.
//
// This room is larger than 2 500 lines because it holds one Go type for each
// kind of line, and the reader, the schema and the fold go by those types.
//
// The page docs/format-ledger.md describes the lines, [Schema] publishes their
// JSON Schema from the same Go types the reader uses. Out of scope: where the
// lines are kept (package store) and what a record of law needs (package
// record).
package ledger
