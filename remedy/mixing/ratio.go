package mixing

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Reading is one way in which a ratio can be meant.
type Reading struct {
	Share float64 // volume of the material in a volume of finished mix, 0 to 1
	Words string  // what the reading says, such as "1 part and 9 parts of water (10 %)"
}

var (
	colon = regexp.MustCompile(`^([\d.,]+) ?: ?([\d.,]+)$`)
	plus  = regexp.MustCompile(`^([\d.,]+) ?\+ ?([\d.,]+)$`)
	parts = regexp.MustCompile(`^([\d.,]+) parts? (?:to|and|\+) ([\d.,]+)(?: parts?)?(?: (?:of )?water)?$`)
	oneIn = regexp.MustCompile(`^([\d.,]+)(?: parts?)? in ([\d.,]+)$`)
	share = regexp.MustCompile(`^([\d.,]+) ?%$`)
	hecto = regexp.MustCompile(`^([\d.,]+) ?l ?/ ?hl$`)
)

// Readings returns every way in which a ratio can be meant, the usual one first.
// "1 part to 10 parts" is 1 in 11, 9.1 %; "10 %" and "1 in 10" are 1 and 9; "1:10"
// can be either; "10 L/hL" is 10 L in 100 L of mix, or 10 L added to 100 L of
// water. A text with more than one reading has to be asked about.
func Readings(text string) ([]Reading, error) {
	t := strings.ToLower(strings.Join(strings.Fields(text), " "))
	added := func(a, water float64) Reading { return reading(a / (a + water)) }
	in := func(a, whole float64) Reading { return reading(a / whole) }
	for _, k := range []struct {
		re   *regexp.Regexp
		make func(a, b float64) []Reading
	}{
		{colon, func(a, b float64) []Reading { return []Reading{added(a, b), in(a, b)} }},
		{plus, func(a, b float64) []Reading { return []Reading{added(a, b)} }},
		{parts, func(a, b float64) []Reading { return []Reading{added(a, b)} }},
		{oneIn, func(a, b float64) []Reading { return []Reading{in(a, b)} }},
		{share, func(a, _ float64) []Reading { return []Reading{in(a, 100)} }},
		{hecto, func(a, _ float64) []Reading { return []Reading{in(a, 100), added(a, 100)} }},
	} {
		m := k.re.FindStringSubmatch(t)
		if m == nil {
			continue
		}
		a, rest, err := plainNumber(m[1])
		if err != nil || rest != "" {
			return nil, fmt.Errorf("reading the ratio %q: %q is not a number", text, m[1])
		}
		b := 100.0
		if len(m) > 2 {
			if b, _, err = plainNumber(m[2]); err != nil {
				return nil, fmt.Errorf("reading the ratio %q: %q is not a number", text, m[2])
			}
		}
		out := k.make(a, b)
		for _, r := range out {
			if !(r.Share > 0 && r.Share <= 1) {
				return nil, fmt.Errorf("reading the ratio %q: more material than mix", text)
			}
		}
		return out, nil
	}
	return nil, fmt.Errorf("reading the ratio %q: write it as 1:10, 1 part to 10 parts, 1 in 10, 10 %% or 10 L/hL", text)
}

func reading(s float64) Reading {
	return Reading{Share: s, Words: say("ratio.reading", "water", short(1/s-1), "share", short(100*s))}
}

// Parted returns how much material and water make the given litres of mix.
func (r Reading) Parted(litres float64) (material, water float64) {
	return r.Share * litres, (1 - r.Share) * litres
}

// short prints a number with at most two decimals.
func short(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}
