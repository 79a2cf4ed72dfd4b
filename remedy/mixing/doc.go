// Package mixing turns rates as labels, handbooks and papers print them into
// what has to be weighed and measured: quantities in any system of units,
// ratios told apart by how they are meant, stock solutions, molarity, silicon,
// spoons and the dose of a lamp.
//
// Inside, a quantity is held in grams, litres, square metres, moles, metres,
// seconds and joules; mass and volume are not turned into each other without a
// density. A gallon, a pint, an ounce of liquid and a spoon depend on the
// country; without it they are refused, never guessed.
//
// Out of scope: which strength is right (room remedy and the label), how much a
// bed needs (remedy.MixFor).
//
// Start at [Parse] and [Readings].
package mixing
