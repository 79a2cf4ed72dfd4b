package remedy

import (
	_ "embed" // the sentences
	"strconv"
	"strings"

	"oidium/words"
)

//go:embed data/words.tsv
var wordsText string

var sentences = words.Lazy(&wordsText)

// say returns the sentence with the given key; pairs are names of gaps and what
// goes there.
func say(key string, pairs ...string) string { return sentences().Fill(key, pairs) }

// num prints a number for a sentence, with at most the given decimals.
func num(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// percent prints a share as a percentage.
func percent(share float64) string { return num(100*share, 0) + " %" }
