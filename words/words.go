package words

import (
	"fmt"
	"strings"
	"sync"
)

// Catalogue holds the sentences of a room by key. Parse makes it; the zero value
// has no sentences and says its keys.
type Catalogue struct {
	text map[string]string
}

// Parse reads a catalogue. The error names the line that is not key, text and
// units parted by tabs, or that names a key a second time.
func Parse(s string) (Catalogue, error) {
	c := Catalogue{text: make(map[string]string)}
	for i, line := range strings.Split(s, "\n") {
		line = strings.TrimSuffix(line, "\r")
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		part := strings.Split(line, "\t")
		if len(part) != 3 || part[0] == "" || part[1] == "" {
			return Catalogue{}, fmt.Errorf("reading the sentences: line %d is not key, text and units parted by tabs", i+1)
		}
		if _, twice := c.text[part[0]]; twice {
			return Catalogue{}, fmt.Errorf("reading the sentences: line %d names %q a second time", i+1, part[0])
		}
		c.text[part[0]] = part[1]
	}
	return c, nil
}

// Lazy returns a function that parses the catalogue on its first call. A damaged
// catalogue is then empty and says its keys; the room's test holds it whole.
func Lazy(s *string) func() Catalogue {
	return sync.OnceValue(func() Catalogue {
		c, _ := Parse(*s)
		return c
	})
}

// Say returns the sentence of a key with its gaps filled: pairs are names and
// values in turn, and the name n fills the gap {n}. A key that is not in the
// catalogue comes back in angle brackets, so that it is seen.
func (c Catalogue) Say(key string, pairs ...any) string {
	as := make([]string, len(pairs))
	for i, p := range pairs {
		as[i] = fmt.Sprint(p)
	}
	return c.Fill(key, as)
}

// Fill is Say with names and values that are text.
func (c Catalogue) Fill(key string, pairs []string) string {
	text, ok := c.text[key]
	if !ok {
		return "<" + key + ">"
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		text = strings.ReplaceAll(text, "{"+pairs[i]+"}", pairs[i+1])
	}
	return text
}

// Has reports whether the catalogue has a sentence for the key.
func (c Catalogue) Has(key string) bool {
	_, ok := c.text[key]
	return ok
}
