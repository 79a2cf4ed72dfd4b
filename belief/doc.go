// Package belief conditions an ensemble on what was seen: each member is a set of
// named parameters and what they led to, and looks give members weight.
//
// It knows no crop, no material and no model: a caller names the parameters,
// simulates each member and says how likely the looks are under it (LogLik). The
// method stands behind [Weigh] and [Learn] and can be replaced without a
// change elsewhere. Weights are shares that sum to one; log-likelihoods are
// natural logarithms.
//
// Out of scope: drawing the members from the prior, and what to do about the
// answer.
//
// Start at [Weigh]; [Mix] weighs explanations that nobody can tell apart, [Learn]
// says what was learned, and [BandOf] prints weighted members.
package belief
