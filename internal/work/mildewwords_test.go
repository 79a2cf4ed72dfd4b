package work

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"oidium/words"
)

// Every key that the code speaks is in the catalogue of mildews, and every key of
// the catalogue is spoken.
func TestMildewSentences(t *testing.T) {
	c, err := words.Parse(mildewSentences)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var spoken []string
	call := regexp.MustCompile(`\bspeak\("([^"]+\.[^"]+)"`)
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range call.FindAllStringSubmatch(string(b), -1) {
			spoken = append(spoken, m[1])
			if !c.Has(m[1]) {
				t.Errorf("%s speaks %q, which has no sentence", f, m[1])
			}
		}
	}
	for _, k := range keysOf(mildewSentences) {
		if !slices.Contains(spoken, k) {
			t.Errorf("the sentence %q is spoken nowhere", k)
		}
	}
}
