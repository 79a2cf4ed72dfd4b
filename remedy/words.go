package remedy

import (
	"bytes"
	_ "embed" // the sentences
	"io"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/words.csv
var wordsCSV []byte

var catalogue = sync.OnceValue(func() map[string]string {
	// A damaged catalogue shows as keys in place of sentences; a test holds it whole.
	words, _ := readWords(bytes.NewReader(wordsCSV))
	return words
})

// readWords reads a catalogue of sentences by key.
func readWords(r io.Reader) (map[string]string, error) {
	words := make(map[string]string)
	err := readTable(r, "words", func(f *fields) {
		key := f.text("key")
		if words[key] != "" {
			f.fail("key", strconv.Quote(key)+" stands there twice")
		}
		words[key] = f.text("text")
	})
	return words, err
}

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
