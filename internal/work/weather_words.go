package work

import (
	_ "embed" // the sentences

	"oidium/words"
)

//go:embed weatherwords.tsv
var weatherSentences string

var weatherCatalogue = words.Lazy(&weatherSentences)

// remark is [say] for the sentences on weather.
func remark(key string, pairs ...any) string { return weatherCatalogue().Say(key, pairs...) }
