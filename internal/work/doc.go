// Package work holds the use-cases of the program, once: fold the ledger, load
// the weather, run the epidemic, condition it on what was seen, plan, and give
// the round. The command line, the sheets and any page call it and add nothing
// of their own.
//
// The result types are the machine interface: their JSON Schema is generated
// from them and published (see [Schema]). A field is never renamed or given
// another meaning without a new version in the schema field.
//
// This room is larger than 2 500 lines because every use-case of the program is
// here once, with the type of its result; a file holds one of them. What they
// share is the sky of a morning (sky.go) and the stands (stand.go).
//
// Start at [Morning].
package work
