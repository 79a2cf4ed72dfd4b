// Package diagram draws leaves with a known share of mildew: the diagrams a person
// holds beside a leaf while reading its severity, and the leaves of a training
// set.
//
// A drawing is a leaf of natural size with colonies of natural size and clumping;
// the share of leaf area under them is what was asked for, to a twentieth of a
// percent, overlaps counted once and nothing beyond the edge counted. Lengths are
// millimetres. White colonies on green, or dark ones on white for print.
//
// Out of scope: which crop has which shape of leaf, and the scoring of a person
// (that is scout.Rate).
//
// Start at [Draw]; [Set] gives the usual steps, [Training] twenty leaves to read.
package diagram
