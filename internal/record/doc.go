// Package record turns treatments of the ledger into the records that law asks
// for. The treatment entry is the record: [Collect] gathers its fields with what
// label, planting, bed and site say, [Applying] finds the sets of rules that bind
// the user on that day, [Rule.Check] tells what is missing, when it was due and
// how long it is to be kept, [WriteCSV] and [WriteJSON] hand it out and [Notice]
// is the text for the people who work there.
//
// The rules are data (rules.json), each with the days between which it holds,
// its source and the day it was read. They were read in secondary sources: every
// output says so and sends the reader to the authority. Nothing here is legal
// advice, and nothing is ever deleted by this room.
//
// EPPO codes are checked by shape; only the few that were confirmed are built
// in, the official list is read by [ReadCodes]. A growth stage is kept as printed
// and parsed where it can be.
package record
