package work

import (
	_ "embed" // the sentences
	"sync"

	"oidium/words"
)

//go:embed bedwords.tsv
var bedSentences string

// bedCatalogue is read once. A damaged one shows as keys in place of sentences;
// a test holds it whole.
var bedCatalogue = sync.OnceValue(func() words.Catalogue {
	c, _ := words.Parse(bedSentences)
	return c
})

// phrase returns a sentence about a bed: looks, mixes, hours, leaves.
func phrase(key string, pairs ...any) string { return bedCatalogue().Say(key, pairs...) }
