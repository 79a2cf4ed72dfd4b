// Package plan decides for each bed what is worth doing today, and for the whole
// garden in which order and how much of it fits into the day.
//
// For a bed the candidates are plain data: effects on the epidemic, minutes,
// money, and what the rules say. Hard rules come first: what they refuse, or
// cannot judge because something has not been entered, is not chosen. The rest
// is ranked by the expected net benefit over leaving the bed alone,
//
//	harvest saved - material - minutes x wage x burden,
//
// the mean over the weighted members of an ensemble that is run with and without
// the action under the same chance. A look is worth what the better choice after
// it is worth: members are split by what the look would find. The verdict comes
// with the runner-up, the cost of waiting, and the find that would turn it over.
//
// Units: the user's money, minutes, days, shares from 0 to 1. Out of scope: which
// materials there are, what the rules are, and the epidemic itself; the caller
// hands in a [Trial]. The words stand apart from the search, in data/words.tsv.
//
// Start at [Decide].
package plan
