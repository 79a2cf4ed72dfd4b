package ledger

import (
	"fmt"
	"strings"
)

// Problem is one thing that is wrong with one line, said so that the person who
// wrote the line can mend it.
type Problem struct {
	Line  int    `json:"line,omitempty" doc:"number of the line, from 1; absent when the line did not come from a file"`
	ID    string `json:"id,omitempty" doc:"id of the entry, when it could be read"`
	Field string `json:"field,omitempty" doc:"path of the field, such as body.counts[2].infected"`
	What  string `json:"what" doc:"what is wrong"`
	Hint  string `json:"hint,omitempty" doc:"what to do"`
}

// Error returns the problem in one sentence.
func (p Problem) Error() string {
	var b strings.Builder
	if p.Line > 0 {
		fmt.Fprintf(&b, "line %d: ", p.Line)
	}
	if p.Field != "" {
		b.WriteString(p.Field + ": ")
	}
	b.WriteString(p.What)
	if p.Hint != "" {
		b.WriteString(" (" + p.Hint + ")")
	}
	return b.String()
}

// Problems is what is wrong with one line.
type Problems []Problem

// Error returns the problems, one a line of text.
func (ps Problems) Error() string {
	var all []string
	for _, p := range ps {
		all = append(all, p.Error())
	}
	return strings.Join(all, "\n")
}

// nearest returns the known word most like the given one, or "" when none is
// close: equal but for case or separators, a beginning of it, or few typing
// errors away.
func nearest(word string, known []string) string {
	plain := func(s string) string {
		return strings.NewReplacer("_", "", "-", "", " ", "").Replace(strings.ToLower(s))
	}
	w := plain(word)
	if w == "" {
		return ""
	}
	best, dist := "", len(w)/3+2
	for _, k := range known {
		p := plain(k)
		d := typos(w, p)
		switch {
		case p == w:
			return k
		case len(w) >= 3 && (strings.HasPrefix(p, w) || strings.HasPrefix(w, p) && len(p) >= 3):
			d = 1
		case len(w) >= 4 && strings.Contains(p, w):
			d = 2
		}
		if d < dist {
			best, dist = k, d
		}
	}
	return best
}

// typos is the number of single typing errors (a letter more, less, wrong, or
// two swapped) between two words: optimal string alignment.
func typos(a, b string) int {
	if len(a) > 64 || len(b) > 64 {
		return 64
	}
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(x); i++ {
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			d := min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				d = min(d, rows[i-2][j-2]+1)
			}
			rows[i][j] = d
		}
	}
	return rows[len(x)][len(y)]
}

// mean gives a hint that names the nearest known word, or lists the known ones.
func mean(word string, known []string) string {
	if n := nearest(word, known); n != "" {
		return fmt.Sprintf("did you mean %q?", n)
	}
	return "known: " + strings.Join(known, ", ")
}
