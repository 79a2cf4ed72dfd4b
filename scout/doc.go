// Package scout turns looks at leaves into numbers: how many leaves to look at,
// what a tally says about the share of mildewed leaves, how likely a tally is
// under a forecast, when a walk may stop, and how fast mildew moves.
//
// Units: shares from 0 to 1, days, square centimetres of leaf, minutes. A leaf is
// looked at on both faces, and each face is counted apart. Leaves of one plant
// resemble each other; the resemblance is rho, the correlation of two leaves of a
// plant, and every number here that rests on a count takes it into account.
//
// Out of scope: which crop or mildew it is (the caller gives expected incidence
// by leaf age and face), pictures, designed trials, and what to do about a
// result.
//
// Start at [Prepare] for the likelihood of a tally, at [Assess] for what a tally
// says by itself, and at [PlanWalk] for how many leaves to look at.
package scout
