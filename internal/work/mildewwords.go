package work

import (
	_ "embed" // the sentences

	"oidium/words"
)

//go:embed mildewwords.tsv
var mildewSentences string

var mildewCatalogue = words.Lazy(&mildewSentences)

// speak is [say] for the sentences on mildews, their hosts and their parameters.
func speak(key string, pairs ...any) string { return mildewCatalogue().Say(key, pairs...) }
