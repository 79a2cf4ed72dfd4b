// Package chance gives every use of randomness its own stream, named by what it
// is for: garden, season, pathosystem, bed, member, process and day.
//
// A stream depends on its name alone. It follows that the number of workers
// cannot change a result, that an entry in the ledger reshuffles nothing, and
// that a bed added to a garden leaves the members of the other beds as they
// were. Start at [Key] and [New].
package chance
