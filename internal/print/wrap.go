package print

import (
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

// columns returns how many columns of a terminal s takes: two for the wide
// characters of East Asia, none for marks that sit on another character.
func columns(s string) int {
	n := 0
	for _, r := range s {
		n += runeColumns(r)
	}
	return n
}

func runeColumns(r rune) int {
	if unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf) {
		return 0
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return 2
	}
	return 1
}

// cut shortens s to at most n columns and shows with dots that it did.
func cut(s string, n int) string {
	if columns(s) <= n {
		return s
	}
	const dots = "..."
	head, _ := split(s, max(0, n-len(dots)))
	return strings.TrimRight(head, " ") + dots[:min(n, len(dots))]
}

// split parts s after at most n columns, never inside a character.
func split(s string, n int) (head, tail string) {
	have := 0
	for i, r := range s {
		c := runeColumns(r)
		if have+c > n {
			return s[:i], s[i:]
		}
		have += c
	}
	return s, ""
}

// fill breaks s into lines of at most n columns, at spaces where it can. There
// is always one line. n is at least 2, the width of the widest character.
func fill(s string, n int) []string {
	n = max(n, 2)
	var lines []string
	line, have := "", 0
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\n' || r == '\t' }) {
		c := columns(word)
		if line != "" && have+1+c <= n {
			line += " " + word
			have += 1 + c
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for c > n {
			var head string
			head, word = split(word, n)
			lines = append(lines, head)
			c = columns(word)
		}
		line, have = word, c
	}
	return append(lines, line)
}

// pad fills s with spaces to n columns, cutting it where it is longer.
func pad(s string, n int) string {
	s = cut(s, n)
	return s + strings.Repeat(" ", max(0, n-columns(s)))
}
