package ledger

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// appendCanonical appends the canonical form of a JSON value by RFC 8785: names
// ordered by UTF-16 code units, numbers as ECMAScript prints them, the shortest
// escapes, no white space. Two bodies say the same when these bytes are equal.
func appendCanonical(b []byte, v any) []byte {
	switch v := v.(type) {
	case nil:
		return append(b, "null"...)
	case bool:
		return strconv.AppendBool(b, v)
	case string:
		return appendString(b, v)
	case number:
		return appendNumber(b, v.v)
	case []any:
		b = append(b, '[')
		for i, e := range v {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendCanonical(b, e)
		}
		return append(b, ']')
	case *object:
		order := make([]int, len(v.names))
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(i, j int) int { return byUTF16(v.names[i], v.names[j]) })
		b = append(b, '{')
		for k, i := range order {
			if k > 0 {
				b = append(b, ',')
			}
			b = append(appendString(b, v.names[i]), ':')
			b = appendCanonical(b, v.values[i])
		}
		return append(b, '}')
	}
	return b
}

// byUTF16 compares texts by UTF-16 code units. Below U+E000 that is the order of
// the bytes in UTF-8; only there and above do the two differ.
func byUTF16(a, b string) int {
	if max(highest(a), highest(b)) < 0xee { // first byte of U+E000 in UTF-8
		return strings.Compare(a, b)
	}
	return slices.Compare(utf16.Encode([]rune(a)), utf16.Encode([]rune(b)))
}

func highest(s string) byte {
	var m byte
	for i := range len(s) {
		m = max(m, s[i])
	}
	return m
}

// appendNumber prints a float64 as ECMAScript's Number.prototype.toString does.
func appendNumber(b []byte, f float64) []byte {
	if f == 0 {
		return append(b, '0') // minus nought too
	}
	if a := max(f, -f); a >= 1e-6 && a < 1e21 {
		return strconv.AppendFloat(b, f, 'f', -1, 64)
	}
	b = strconv.AppendFloat(b, f, 'e', -1, 64)
	if n := len(b); n >= 4 && b[n-4] == 'e' && b[n-2] == '0' { // e-07 to e-7
		b[n-2] = b[n-1]
		b = b[:n-1]
	}
	return b
}

const hexDigits = "0123456789abcdef"

func appendString(b []byte, s string) []byte {
	b = append(b, '"')
	for i := 0; i < len(s); i++ {
		switch c := s[i]; c {
		case '"', '\\':
			b = append(b, '\\', c)
		case '\b':
			b = append(b, '\\', 'b')
		case '\t':
			b = append(b, '\\', 't')
		case '\n':
			b = append(b, '\\', 'n')
		case '\f':
			b = append(b, '\\', 'f')
		case '\r':
			b = append(b, '\\', 'r')
		default:
			if c < 0x20 {
				b = append(b, '\\', 'u', '0', '0', hexDigits[c>>4], hexDigits[c&15])
			} else {
				b = append(b, c)
			}
		}
	}
	return append(b, '"')
}
