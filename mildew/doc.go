// Package mildew is the fungus as weather and leaf meet it: which mildew lives
// on which crop, how fast it grows, how it spreads and what stops it. One row of
// data is one pathosystem: a mildew on its hosts.
//
// Hourly weather at the leaf is folded into daily factors ([Pathosystem.Fold]);
// an epidemic then works by days. Temperatures are °C, relative humidity %,
// wind m/s, rain mm in the hour, radiation W/m². All factors are shares of what
// the best day would give, all progress is in shares of a period a day.
//
// Temperature drives latency; humidity acts on germination only, and it acts on
// different species with different sign, so each row has its own curve.
//
// Out of scope: downy mildews, species that no row names, and published indices
// whose rules could not be confirmed. Start at [Of], [Get] and [Pathosystem].
package mildew
