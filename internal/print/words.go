package print

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"
)

//go:embed words.tsv
var catalogue string

// words are the sentences of this room by key.
type words map[string]string

// load reads the catalogue: a line is key, text and units, parted by tabs;
// empty lines and lines that start with # are skipped.
var load = sync.OnceValues(func() (words, error) { return parseWords(catalogue) })

func parseWords(s string) (words, error) {
	w := make(words)
	for i, line := range strings.Split(s, "\n") {
		line = strings.TrimSuffix(line, "\r")
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		part := strings.Split(line, "\t")
		if len(part) != 3 || part[0] == "" || part[1] == "" {
			return nil, fmt.Errorf("reading the sentences: line %d is not key, text and units parted by tabs", i+1)
		}
		if _, twice := w[part[0]]; twice {
			return nil, fmt.Errorf("reading the sentences: line %d names %q a second time", i+1, part[0])
		}
		w[part[0]] = part[1]
	}
	return w, nil
}

// say returns the sentence of a key with its gaps filled: args are names and
// values in turn, and the name n fills the gap {n}. A key that is not in the
// catalogue comes back in angle brackets, so that it is seen.
func (w words) say(key string, args ...any) string {
	text, ok := w[key]
	if !ok {
		return "<" + key + ">"
	}
	for i := 0; i+1 < len(args); i += 2 {
		text = strings.ReplaceAll(text, "{"+fmt.Sprint(args[i])+"}", fmt.Sprint(args[i+1]))
	}
	return text
}

// count is say for a number of things: the sentence is under key.one for one
// and under key.many for any other number, with the gap {n}.
func (w words) count(key string, n int) string {
	if n == 1 {
		return w.say(key+".one", "n", n)
	}
	return w.say(key+".many", "n", n)
}

// word returns the sentence under kind.value, or the value itself where the
// catalogue has none: a verdict added later is still shown.
func (w words) word(kind, value string) string {
	if text, ok := w[kind+"."+value]; ok {
		return text
	}
	return clean(value)
}
