// Package print turns a round, or the answer to one question, into something a
// person reads: plain text of at most 80 columns, or one self-contained page for a
// phone and for paper.
//
// Nothing is decided here. Every number comes from [work.Round]; this room only
// chooses the order, the rounding and the words. Every sentence of its own is in
// words.tsv, one to a line with its key and the units of its numbers, so that
// somebody who does not program can edit or translate it.
//
// Mildew is drawn as mildew looks: white dots over green. The share of the
// rectangle that is white is exactly the share of leaf area covered, and dots
// mean nothing else. On paper the dots are dark. No colour carries a meaning
// that is not also written.
//
// This room is larger than 2 500 lines because each answer of the program has a
// layout of its own here, a file for each group of them; what they share is the
// paper of text.go and the sheet.
//
// Start at [Text], [HTML] and [Explain].
package print
