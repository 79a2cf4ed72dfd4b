package read

import "strings"

// separator is what stands between the fields of a table: a rune, or blanks.
type separator rune

const blanks separator = ' '

func (s separator) String() string {
	switch s {
	case '\t':
		return "tabs"
	case blanks:
		return "blanks"
	}
	return "\"" + string(rune(s)) + "\""
}

// split appends the fields of line to out, trimmed, quotes taken off (a doubled
// quote within quotes is one quote). Fields share memory with the line.
func (s separator) split(line string, out []string) []string {
	if s == blanks {
		return append(out, strings.Fields(line)...)
	}
	for {
		line = strings.TrimLeft(line, " ")
		if strings.HasPrefix(line, `"`) {
			field, rest, ok := quoted(line)
			if ok {
				out = append(out, strings.TrimSpace(field))
				i := strings.IndexRune(rest, rune(s))
				if i < 0 {
					return out
				}
				line = rest[i+1:]
				continue
			}
		}
		i := strings.IndexByte(line, byte(s))
		if i < 0 {
			return append(out, strings.TrimSpace(line))
		}
		out = append(out, strings.TrimSpace(line[:i]))
		line = line[i+1:]
	}
}

func quoted(line string) (field, rest string, ok bool) {
	for i := 1; i < len(line); i++ {
		if line[i] != '"' {
			continue
		}
		if i+1 < len(line) && line[i+1] == '"' {
			i++
			continue
		}
		return strings.ReplaceAll(line[1:i], `""`, `"`), line[i+1:], true
	}
	return "", "", false
}

// findSeparator returns the separator that cuts most of the lines into the same
// number of fields, and that number.
func findSeparator(lines []string) (separator, int) {
	best, fields, score := blanks, 0, 0
	for _, s := range []separator{'\t', ';', '|', ',', blanks} {
		counts := make(map[int]int)
		var f []string
		top, at := 0, 0
		for _, l := range lines {
			f = s.split(l, f[:0])
			counts[len(f)]++
			if c := counts[len(f)]; len(f) > 1 && (c > top || c == top && len(f) > at) {
				top, at = c, len(f)
			}
		}
		// A comma that is a decimal sign also cuts evenly; the rarer sign is
		// tried first and must be beaten by a clear margin.
		if top*10 > score*11 {
			best, fields, score = s, at, top
		}
	}
	return best, fields
}
