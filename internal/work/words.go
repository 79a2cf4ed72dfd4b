package work

import (
	_ "embed" // the sentences

	"oidium/words"
)

//go:embed words.tsv
var sentences string

var catalogue = words.Lazy(&sentences)

// say returns the sentence with the given key, its gaps filled from pairs of
// names and values.
func say(key string, pairs ...any) string { return catalogue().Say(key, pairs...) }
