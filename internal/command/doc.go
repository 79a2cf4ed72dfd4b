// Package command is the command line: it reads flags and files, calls the
// use-cases of package work, and prints. It holds no knowledge of gardens. It is
// the only room besides the page that asks the clock.
//
// This room is larger than 2 500 lines because every command is here, one file for
// each group; what people type is read in the rooms below it, daybook and spoken.
//
// Start at [Run].
package command
