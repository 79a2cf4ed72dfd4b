package work

import (
	_ "embed" // the sentences

	"oidium/words"
)

//go:embed bookwords.tsv
var bookSentences string

var bookCatalogue = words.Lazy(&bookSentences)

// tell is [say] for the sentences on the book, the shed and records.
func tell(key string, pairs ...any) string { return bookCatalogue().Say(key, pairs...) }
