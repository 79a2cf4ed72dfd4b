package work

import (
	_ "embed" // the sentences
	"sync"

	"oidium/words"
)

//go:embed words.tsv
var sentences string

// catalogue is read once. A damaged one shows as keys in place of sentences; a
// test holds it whole.
var catalogue = sync.OnceValue(func() words.Catalogue {
	c, _ := words.Parse(sentences)
	return c
})

// say returns the sentence with the given key, its gaps filled from pairs of
// names and values.
func say(key string, pairs ...any) string { return catalogue().Say(key, pairs...) }
