// Package daybook turns what a person types into an entry of the ledger: the
// fields of a kind one by one, dates and times as people say them, numbers with
// units, leaves counted plant by plant, and the conversation that asks for what
// is still needed.
//
// Units of what is kept are those of the ledger's fields (SI, or named by the
// field). A unit that is typed is converted; one whose size depends on the
// country is read by the units of the site and refused without them.
//
// What a field must be is read from the published schema of the ledger and
// checked by the ledger's own reader, so that the two cannot disagree. Out of
// scope: files, the clock, where entries are kept (package command).
//
// Start at [Open], which makes a page from the entries so far, [Page.New] and
// [Draft.Say]; [Page.Ask] is the conversation. The words for counting leaves are
// those of package spoken.
//
// This room is larger than 2 500 lines because the questions, the draft, the page
// and the reading of every kind of field answer to each other; splitting them would
// make a seam that every new kind of entry has to cross.
package daybook
