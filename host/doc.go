// Package host is the crop as a mildew meets it: leaf by age, two faces, light
// on each leaf, growth by thermal time, and what a day of the crop is worth.
//
// Leaf area is in square metres of leaf (one side) per square metre of ground.
// Leaves are kept in cohorts: all leaf that unfolded in one window of days.
// Thermal time is in degree days (°C d) above the crop's base temperature.
//
// Out of scope: yield in kilograms, nutrition, water stress, other diseases.
// Start at [Get] and [Crop].
package host
