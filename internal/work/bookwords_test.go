package work

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"oidium/words"
)

// Every key that the code tells is in the catalogue of the book, and every key of
// the catalogue is told.
func TestBookSentences(t *testing.T) {
	c, err := words.Parse(bookSentences)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	call := regexp.MustCompile(`\btell\("([^"]+)"`)
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range call.FindAllStringSubmatch(string(b), -1) {
			told = append(told, m[1])
			if !c.Has(m[1]) {
				t.Errorf("%s tells %q, which has no sentence", f, m[1])
			}
		}
	}
	for _, k := range keysOf(bookSentences) {
		if !slices.Contains(told, k) {
			t.Errorf("the sentence %q is told nowhere", k)
		}
	}
}
