// Package spoken reads dates, times, numbers with units and counts of leaves as
// people type them, and says them back.
//
// A date without a year and a time without a date are read as seen from a
// [Clock]. A number may have a decimal comma; one that can be read in two ways is
// refused, and so is a unit whose size depends on the country when the system is
// not said. Leaves are counted plant by plant in words of our own, described at
// [Help].
//
// Units of what comes out are named by the caller. Out of scope: what the values
// are for (package daybook), rates and mixes (room remedy/mixing).
//
// Start at [Clock], [Number] and [Tally].
package spoken
