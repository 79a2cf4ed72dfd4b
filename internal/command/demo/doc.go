// Package demo holds the example that the program carries with it: an invented
// garden on real weather. The garden does not exist; the weather is measured,
// its origin and licence stand in ORIGIN.md beside the data.
package demo
