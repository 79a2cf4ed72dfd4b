package ledger

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// An object is a JSON object with its members in the order they were written.
// Values are nil, bool, string, number, []any or *object.
type object struct {
	names  []string
	values []any
}

func (o *object) get(name string) (any, bool) {
	for i, n := range o.names {
		if n == name {
			return o.values[i], true
		}
	}
	return nil, false
}

// number is a JSON number: as written and as a float64.
type number struct {
	text string
	v    float64
}

// maxDepth bounds the nesting of a line; the deepest body uses five levels.
const maxDepth = 24

// parseTree reads one JSON value (RFC 8259). It is stricter than encoding/json:
// a name twice in one object, half a surrogate pair and a number beyond float64
// are errors. It is there for its speed, and because encoding/json passes over
// all three; a test holds the two together.
func parseTree(line []byte) (any, error) {
	if !utf8.Valid(line) {
		return nil, badEncoding(line)
	}
	s := &scanner{text: string(line)}
	v, err := s.value(0)
	if err != nil {
		return nil, err
	}
	s.blank()
	if s.at < len(s.text) {
		return nil, errors.New("something stands behind the end of the entry: one entry a line")
	}
	return v, nil
}

func badEncoding(line []byte) error {
	for i := 0; i < len(line); {
		r, n := utf8.DecodeRune(line[i:])
		if r == utf8.RuneError && n == 1 {
			return fmt.Errorf("byte %d is %#02x, which is not UTF-8", i+1, line[i])
		}
		i += n
	}
	return nil
}

// scanner reads JSON from a text in UTF-8.
type scanner struct {
	text string
	at   int
}

var errShort = errors.New("the line ends in the middle of the entry")

// wrong says what stands where something else is expected.
func (s *scanner) wrong(expected string) error {
	if s.at >= len(s.text) {
		return errShort
	}
	r, _ := utf8.DecodeRuneInString(s.text[s.at:])
	return fmt.Errorf("it is not JSON: %q at byte %d where %s is expected", r, s.at+1, expected)
}

func (s *scanner) blank() {
	for s.at < len(s.text) {
		switch s.text[s.at] {
		case ' ', '\t', '\n', '\r':
			s.at++
		default:
			return
		}
	}
}

// next passes over blanks and returns the byte that follows, 0 at the end.
func (s *scanner) next() byte {
	s.blank()
	if s.at >= len(s.text) {
		return 0
	}
	return s.text[s.at]
}

func (s *scanner) value(depth int) (any, error) {
	if depth > maxDepth {
		return nil, fmt.Errorf("nested deeper than %d levels", maxDepth)
	}
	switch c := s.next(); {
	case c == '{':
		return s.object(depth)
	case c == '[':
		return s.list(depth)
	case c == '"':
		return s.str()
	case c == '-' || c >= '0' && c <= '9':
		return s.number()
	case c == 't':
		return true, s.word("true")
	case c == 'f':
		return false, s.word("false")
	case c == 'n':
		return nil, s.word("null")
	}
	return nil, s.wrong("a value")
}

func (s *scanner) word(w string) error {
	for i := range len(w) {
		if s.at >= len(s.text) || s.text[s.at] != w[i] {
			return s.wrong(w)
		}
		s.at++
	}
	return nil
}

func (s *scanner) object(depth int) (any, error) {
	s.at++ // {
	o := &object{}
	if s.next() == '}' {
		s.at++
		return o, nil
	}
	for {
		if s.next() != '"' {
			return nil, s.wrong("a name in quotes")
		}
		name, err := s.str()
		if err != nil {
			return nil, err
		}
		if _, twice := o.get(name); twice {
			return nil, fmt.Errorf("%q stands twice in one object", name)
		}
		if s.next() != ':' {
			return nil, s.wrong("a colon")
		}
		s.at++
		v, err := s.value(depth + 1)
		if err != nil {
			return nil, err
		}
		o.names, o.values = append(o.names, name), append(o.values, v)
		switch s.next() {
		case ',':
			s.at++
		case '}':
			s.at++
			return o, nil
		default:
			return nil, s.wrong("a comma or the end of the object")
		}
	}
}

func (s *scanner) list(depth int) (any, error) {
	s.at++ // [
	list := []any{}
	if s.next() == ']' {
		s.at++
		return list, nil
	}
	for {
		v, err := s.value(depth + 1)
		if err != nil {
			return nil, err
		}
		list = append(list, v)
		switch s.next() {
		case ',':
			s.at++
		case ']':
			s.at++
			return list, nil
		default:
			return nil, s.wrong("a comma or the end of the list")
		}
	}
}

func (s *scanner) digits() bool {
	from := s.at
	for s.at < len(s.text) && s.text[s.at] >= '0' && s.text[s.at] <= '9' {
		s.at++
	}
	return s.at > from
}

func (s *scanner) number() (any, error) {
	from := s.at
	if s.text[s.at] == '-' {
		s.at++
	}
	lead := s.at
	if !s.digits() {
		return nil, s.wrong("a digit")
	}
	if s.text[lead] == '0' && s.at > lead+1 {
		s.at = lead + 1
		return nil, s.wrong("the end of the number, which begins with 0,")
	}
	if s.at < len(s.text) && s.text[s.at] == '.' {
		s.at++
		if !s.digits() {
			return nil, s.wrong("a digit")
		}
	}
	if s.at < len(s.text) && (s.text[s.at] == 'e' || s.text[s.at] == 'E') {
		s.at++
		if s.at < len(s.text) && (s.text[s.at] == '+' || s.text[s.at] == '-') {
			s.at++
		}
		if !s.digits() {
			return nil, s.wrong("a digit")
		}
	}
	text := s.text[from:s.at]
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return nil, fmt.Errorf("the number %.40s is too large", text)
	}
	return number{text, v}, nil
}

func (s *scanner) str() (string, error) {
	s.at++ // "
	from := s.at
	for s.at < len(s.text) {
		switch c := s.text[s.at]; {
		case c == '"':
			s.at++
			return s.text[from : s.at-1], readable(s.text[from : s.at-1])
		case c == '\\':
			return s.escaped(from)
		case c < 0x20:
			return "", s.wrong("a text without control characters")
		}
		s.at++
	}
	return "", errShort
}

// escaped goes on with a text at its first escape.
func (s *scanner) escaped(from int) (string, error) {
	b := []byte(s.text[from:s.at])
	for s.at < len(s.text) {
		c := s.text[s.at]
		switch {
		case c == '"':
			s.at++
			return string(b), readable(string(b))
		case c < 0x20:
			return "", s.wrong("a text without control characters")
		case c != '\\':
			b = append(b, c)
			s.at++
			continue
		}
		s.at++
		if s.at >= len(s.text) {
			return "", errShort
		}
		switch c := s.text[s.at]; c {
		case '"', '\\', '/':
			b = append(b, c)
		case 'b':
			b = append(b, '\b')
		case 'f':
			b = append(b, '\f')
		case 'n':
			b = append(b, '\n')
		case 'r':
			b = append(b, '\r')
		case 't':
			b = append(b, '\t')
		case 'u':
			r, err := s.escapedRune()
			if err != nil {
				return "", err
			}
			b = utf8.AppendRune(b, r)
			continue
		default:
			return "", s.wrong("an escape")
		}
		s.at++
	}
	return "", errShort
}

// escapedRune reads \uXXXX, at the u, or a pair of them.
func (s *scanner) escapedRune() (rune, error) {
	r, err := s.hex4()
	if err != nil || !utf16.IsSurrogate(r) {
		return r, err
	}
	if s.at+1 < len(s.text) && s.text[s.at] == '\\' && s.text[s.at+1] == 'u' {
		s.at++
		low, err := s.hex4()
		if err != nil {
			return 0, err
		}
		if both := utf16.DecodeRune(r, low); both != utf8.RuneError {
			return both, nil
		}
	}
	return utf8.RuneError, nil // half a pair; readable refuses it
}

func (s *scanner) hex4() (rune, error) {
	s.at++ // u
	if s.at+4 > len(s.text) {
		s.at = len(s.text)
		return 0, errShort
	}
	v, err := strconv.ParseUint(s.text[s.at:s.at+4], 16, 16)
	if err != nil {
		return 0, s.wrong("four hexadecimal digits")
	}
	s.at += 4
	return rune(v), nil
}

func readable(t string) error {
	for _, r := range t {
		if r == utf8.RuneError {
			return errors.New("a text holds a character that cannot be read (U+FFFD or half a surrogate pair)")
		}
	}
	return nil
}
