package work

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"oidium/words"
)

// Every key that the code says is in the catalogue, and every key of the
// catalogue is said.
func TestBedSentences(t *testing.T) {
	c, err := words.Parse(bedSentences)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	said := make(map[string]bool)
	call := regexp.MustCompile(`\bphrase\("([^"]+)"`)
	whole := regexp.MustCompile(`\bmeasured\("([^"]+)"`)
	figure := regexp.MustCompile(`\.add\("([^"]+)"`)
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range call.FindAllStringSubmatch(string(b), -1) {
			said[m[1]] = true
		}
		if f != "measure.go" {
			continue
		}
		for _, m := range whole.FindAllStringSubmatch(string(b), -1) {
			said["measure."+m[1]] = true
		}
		for _, m := range figure.FindAllStringSubmatch(string(b), -1) {
			said["figure."+m[1]] = true
		}
	}
	for _, x := range []string{"check.eye", "check.lens", "check.wet-bag", "rain.P", "rain.S", "rain.L", "rain.T", "rain.M", "rain.none"} {
		said[x] = true // put together from a word of the entries or of the table
	}
	for k := range said {
		if !c.Has(k) && !strings.HasSuffix(k, ".") {
			t.Errorf("no sentence for %q", k)
		}
	}
	for _, k := range keysOf(bedSentences) {
		if !said[k] {
			t.Errorf("the sentence %q is said nowhere", k)
		}
	}
}
