package cite

import (
	"slices"
	"sync"
)

// register is built on first use from the lists beside this file, one list for
// each field of knowledge, so that a room adds its sources in one place.
var register = sync.OnceValue(func() map[string]Source {
	m := make(map[string]Source)
	for _, list := range [][]Source{biology, treatments, scouting, heat, practice} {
		for _, s := range list {
			m[s.ID] = s
		}
	}
	return m
})

// Lookup returns the source with the given id.
func Lookup(id string) (Source, bool) {
	s, ok := register()[id]
	return s, ok
}

// All returns every source of the register, ordered by id.
func All() []Source {
	m := register()
	out := make([]Source, 0, len(m))
	for _, s := range m {
		out = append(out, s)
	}
	slices.SortFunc(out, func(a, b Source) int {
		if a.ID < b.ID {
			return -1
		}
		return 1
	})
	return out
}
