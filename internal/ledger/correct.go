package ledger

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"oidium/garden"
)

// inOrder compares entries by the time they speak of, then the time they were
// written, then id: the one order of the fold.
func inOrder(a, b Entry) int {
	return cmp.Or(a.Time.Compare(b.Time), a.Written.Compare(b.Written), cmp.Compare(a.ID, b.ID))
}

// later compares entries by the time they were written, then id: of two
// corrections the greater one holds.
func later(a, b Entry) int {
	return cmp.Or(a.Written.Compare(b.Written), cmp.Compare(a.ID, b.ID))
}

// standing returns the entries that hold at asOf, in order: known by then, each
// once, and of an entry and its corrections only the last word. Entries that
// correct one another form a group; its last word is the latest written among
// those that no other known entry replaces. Two of these are a conflict, and
// are flagged.
func standing(entries []Entry, asOf time.Time) ([]Entry, []garden.Warning, error) {
	known, err := unite(entries)
	if err != nil {
		return nil, nil, fmt.Errorf("folding the ledger: %w", err)
	}
	known = slices.DeleteFunc(known, func(e Entry) bool { return !e.Known(asOf) })
	groups := newGroups()
	replaced := make(map[garden.EntryID]bool)
	for _, e := range known {
		groups.find(e.ID)
		if e.Replaces != "" {
			groups.join(e.ID, e.Replaces)
			replaced[e.Replaces] = true
		}
	}
	members := make(map[garden.EntryID][]Entry)
	var roots []garden.EntryID
	for _, e := range known { // known is in order of id
		root := groups.find(e.ID)
		if members[root] == nil {
			roots = append(roots, root)
		}
		members[root] = append(members[root], e)
	}
	var out []Entry
	var warnings []garden.Warning
	for _, root := range roots {
		all := members[root]
		last := slices.DeleteFunc(slices.Clone(all), func(e Entry) bool { return replaced[e.ID] })
		if len(last) == 0 { // a circle of corrections
			last = all
		}
		win := slices.MaxFunc(last, later)
		if len(last) > 1 {
			warnings = append(warnings, conflict(win, last))
		}
		if win.Kind != "withdrawal" {
			out = append(out, win)
		}
	}
	slices.SortFunc(out, inOrder)
	return out, warnings, nil
}

func conflict(win Entry, last []Entry) garden.Warning {
	var others []string
	for _, e := range last {
		if e.ID != win.ID {
			others = append(others, string(e.ID))
		}
	}
	return garden.Warning{
		Code: "two-corrections", Bed: win.Bed,
		Text: fmt.Sprintf("one entry was corrected in more than one way: %s holds, written last; also kept: %s", win.ID, strings.Join(others, ", ")),
	}
}

// groups joins ids that are tied by a correction (union-find).
type groups struct {
	parent map[garden.EntryID]garden.EntryID
}

func newGroups() groups { return groups{make(map[garden.EntryID]garden.EntryID)} }

func (g groups) find(id garden.EntryID) garden.EntryID {
	p, ok := g.parent[id]
	if !ok {
		g.parent[id] = id
		return id
	}
	if p == id {
		return id
	}
	root := g.find(p)
	g.parent[id] = root
	return root
}

// join keeps the smaller id as the root, so that the order of joining is not
// seen in the result.
func (g groups) join(a, b garden.EntryID) {
	a, b = g.find(a), g.find(b)
	if a > b {
		a, b = b, a
	}
	g.parent[b] = a
}
