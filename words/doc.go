// Package words reads catalogues of sentences, so that somebody who does not
// program can edit or translate what the program says. A catalogue is a text
// file of one room: a line is a key, a sentence and the units of its gaps, parted
// by tabs; empty lines and lines that start with # are skipped. A gap such as
// {n} is filled by the program; it may be moved, not left out.
//
// Start at [Parse] and [Catalogue.Say].
package words
