package print

import (
	_ "embed"
	"sync"

	"oidium/words"
)

//go:embed words.tsv
var catalogue string

// phrases are the sentences of this room.
type phrases struct{ words.Catalogue }

var load = sync.OnceValues(func() (phrases, error) {
	c, err := words.Parse(catalogue)
	return phrases{c}, err
})

// say returns the sentence of a key with its gaps filled; see [words.Catalogue].
func (w phrases) say(key string, args ...any) string { return w.Say(key, args...) }

// count is say for a number of things: the sentence is under key.one for one
// and under key.many for any other number, with the gap {n}.
func (w phrases) count(key string, n int) string {
	if n == 1 {
		return w.say(key+".one", "n", n)
	}
	return w.say(key+".many", "n", n)
}

// word returns the sentence under kind.value, or the value itself where the
// catalogue has none: a verdict added later is still shown.
func (w phrases) word(kind, value string) string {
	if key := kind + "." + value; w.Has(key) {
		return w.say(key)
	}
	return clean(value)
}
