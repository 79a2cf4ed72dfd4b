package mixing

import (
	"bytes"
	_ "embed" // the sentences
	"encoding/csv"
	"strings"
	"sync"
)

//go:embed data/words.csv
var wordsCSV []byte

var catalogue = sync.OnceValue(func() map[string]string {
	words := make(map[string]string)
	// A damaged catalogue shows as keys in place of sentences; a test holds it whole.
	rows, _ := csv.NewReader(bytes.NewReader(wordsCSV)).ReadAll()
	for _, r := range rows {
		words[r[0]] = r[1]
	}
	return words
})

// say returns the sentence of the catalogue with the given key; pairs are names
// of places in braces, each followed by what goes there.
func say(key string, pairs ...string) string {
	s, ok := catalogue()[key]
	if !ok {
		return key
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		s = strings.ReplaceAll(s, "{"+pairs[i]+"}", pairs[i+1])
	}
	return s
}
