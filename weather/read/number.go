package read

import (
	"math"
	"strconv"
	"strings"
)

// numbers is how the numbers of a file are written.
type numbers struct {
	comma bool // decimal comma
}

// sentinels are numbers that mean "no value" where they cannot be one.
var sentinels = []float64{-99, -99.9, -999, -999.9, -6999, -7999, -8888, -9999, -9999.9, -99999, 99, 99.9, 999, 999.9, 9999, 9999.9, 99999, 32767, 65535} // numerical

// missingWords mean "no value".
var missingWords = []string{"", "-", "--", "---", "----", "na", "n/a", "nan", "null", "none", "m", "x", "*", "***", "?", "err", "error", "#n/a", "missing", "nd", "--.-", "---.-", "."}

// meaning of a field.
type fieldKind int

const (
	isNumber fieldKind = iota
	isMissing
	isTrace // rain too little to measure
	isText
)

// parse reads a field as a number.
func (n numbers) parse(s string) (float64, fieldKind) {
	if x, ok := quick(s); ok {
		return x, isNumber
	}
	t := s
	if n.comma {
		if strings.Contains(t, ",") {
			t = strings.ReplaceAll(t, ".", "") // thousands
		}
		t = strings.Replace(t, ",", ".", 1)
	}
	t = strings.TrimSuffix(strings.TrimSpace(t), "%")
	if x, err := strconv.ParseFloat(t, 64); err == nil && !math.IsNaN(x) && !math.IsInf(x, 0) {
		return x, isNumber
	}
	low := strings.ToLower(strings.TrimSpace(s))
	for _, w := range missingWords {
		if low == w {
			return 0, isMissing
		}
	}
	switch low {
	case "t", "tr", "trace":
		return 0, isTrace
	}
	return 0, isText
}

// quick reads plain decimal numbers of up to 15 digits, which is nearly all.
func quick(s string) (float64, bool) {
	neg := len(s) > 0 && s[0] == '-'
	if neg {
		s = s[1:]
	}
	if len(s) == 0 || len(s) > 15 {
		return 0, false
	}
	var whole uint64
	digits, point := 0, -1
	for i := range len(s) {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			whole = 10*whole + uint64(c-'0')
			digits++
		case c == '.' && point < 0:
			point = digits
		default:
			return 0, false
		}
	}
	if digits == 0 {
		return 0, false
	}
	x := float64(whole)
	if point >= 0 {
		x /= tens[digits-point] // both exact in a float64, so the quotient is right
	}
	if neg {
		x = -x
	}
	return x, true
}

var tens = [16]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// isSentinel reports whether x is a number that often stands for "no value".
func isSentinel(x float64) bool {
	for _, s := range sentinels {
		if math.Abs(x-s) < 1e-6 {
			return true
		}
	}
	return false
}

// decimalComma reports whether the fields are written with a decimal comma.
func decimalComma(fields []string) bool {
	comma, point := 0, 0
	for _, f := range fields {
		if !strings.ContainsAny(f, "0123456789") || strings.ContainsAny(f, ":/") {
			continue
		}
		i, j := strings.LastIndexByte(f, ','), strings.LastIndexByte(f, '.')
		digits := strings.Trim(f, "+-0123456789.,") == ""
		switch {
		case !digits || i < 0 && j < 0 || strings.Count(f, ".") > 1:
		case i > j:
			comma++
		default:
			point++
		}
	}
	return comma > point
}
