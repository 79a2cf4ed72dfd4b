package work

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"oidium/words"
)

// Every key that the code says is in the catalogue, and every key of the
// catalogue is said.
func TestSentences(t *testing.T) {
	c, err := words.Parse(sentences)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	said := make(map[string]bool)
	call := regexp.MustCompile(`\bsay\("([^"]+)"`)
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range call.FindAllStringSubmatch(string(b), -1) {
			said[m[1]] = true
			if !c.Has(m[1]) && m[1] != "head." {
				t.Errorf("%s says %q, which has no sentence", f, m[1])
			}
		}
	}
	for _, kind := range []string{"treat", "remove", "clear", "look", "enter"} {
		said["head."+kind] = true // put together from the kind of job
	}
	for _, k := range keysOf(sentences) {
		if !said[k] {
			t.Errorf("the sentence %q is said nowhere", k)
		}
	}
}
