package work

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"oidium/words"
)

// Every key that the code remarks is in the catalogue of weather, and every key of
// the catalogue is remarked.
func TestWeatherSentences(t *testing.T) {
	c, err := words.Parse(weatherSentences)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	call := regexp.MustCompile(`\bremark\("([^"]+)"`)
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range call.FindAllStringSubmatch(string(b), -1) {
			told = append(told, m[1])
			if !c.Has(m[1]) {
				t.Errorf("%s remarks %q, which has no sentence", f, m[1])
			}
		}
	}
	for _, k := range keysOf(weatherSentences) {
		if !slices.Contains(told, k) {
			t.Errorf("the sentence %q is remarked nowhere", k)
		}
	}
}
