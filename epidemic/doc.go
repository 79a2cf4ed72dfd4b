// Package epidemic runs one mildew on one planting, day by day, as an ensemble.
//
// A [Stand] is a bed, its planting and one mildew. Leaf is kept in cohorts by
// age, each with two faces; the area of a face is healthy, latent (by stage),
// infectious (by stage) or spent. Areas are m² of leaf per m² of ground. Leaf
// area is conserved: what unfolded stands, was taken off, or fell.
//
// Members of the ensemble differ in their parameters ([Draw]), in what arrives
// from outside, and in the weather ahead. All randomness is keyed by name, so
// that members of different beds with the same number share the garden's
// parameters, and the number of workers changes nothing.
//
// A day's record is the state in the morning (06:00) of that day: days before it
// are over, the day itself is not.
//
// Every action reaches the epidemic as a [garden.Effect]. Out of scope: what
// actions cost, and what was seen (the members are weighed elsewhere).
//
// Start at [Stand], [Draw], [RunAt] and [Ensemble.Try].
package epidemic
