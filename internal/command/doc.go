// Package command is the command line: it reads flags and files, calls the
// use-cases of package work, and prints. It holds no knowledge of gardens. It is
// the only room besides the page that asks the clock.
//
// Start at [Run].
package command
