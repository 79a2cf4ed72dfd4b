// Package garden is the vocabulary of the program: places, beds, plantings,
// looks, actions and effects as plain values. Every other room speaks in these
// words. There is no logic here beyond the invariants of the values themselves.
//
// Units are SI unless a name says otherwise: metres, square metres, kilograms,
// litres, degrees Celsius, shares from 0 to 1. Times are instants with a zone;
// a [Day] is a date in the garden's own zone.
//
// Start at [Garden], which is what a fold over the ledger gives, and at
// [Effect], the one seam through which every action reaches an epidemic.
package garden
