package mixing

import (
	_ "embed" // the sentences

	"oidium/words"
)

//go:embed data/words.tsv
var wordsText string

var sentences = words.Lazy(&wordsText)

// say returns the sentence with the given key; pairs are names of gaps and what
// goes there.
func say(key string, pairs ...string) string { return sentences().Fill(key, pairs) }
