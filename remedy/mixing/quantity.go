package mixing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
)

// dimension holds the powers of the base units.
type dimension struct{ mass, volume, area, amount, length, time, energy int8 }

func (d dimension) plus(e dimension, sign int8) dimension {
	return dimension{
		d.mass + sign*e.mass, d.volume + sign*e.volume, d.area + sign*e.area, d.amount + sign*e.amount,
		d.length + sign*e.length, d.time + sign*e.time, d.energy + sign*e.energy,
	}
}

// Quantity is a number with a unit. It is made by Parse.
type Quantity struct {
	value float64 // in g, L, m², mol, m, s, J
	dim   dimension
}

// Times returns q·r.
func (q Quantity) Times(r Quantity) Quantity {
	return Quantity{q.value * r.value, q.dim.plus(r.dim, 1)}
}

// Per returns q/r, an error when r is zero.
func (q Quantity) Per(r Quantity) (Quantity, error) {
	if r.value == 0 {
		return Quantity{}, fmt.Errorf("dividing a quantity: the divisor is zero")
	}
	return Quantity{q.value / r.value, q.dim.plus(r.dim, -1)}, nil
}

// In returns the number of the given units in q. The error says which kind of
// quantity the two are when they do not fit.
func (q Quantity) In(unit string, s System) (float64, error) {
	u, err := Parse("1 "+unit, s)
	if err != nil {
		return 0, err
	}
	if u.dim != q.dim {
		return 0, fmt.Errorf("turning a quantity into %s: it is a %s, not a %s; a mass becomes a volume only with a density", unit, q.dim, u.dim)
	}
	return q.value / u.value, nil
}

func (d dimension) String() string {
	var up, down []string
	for _, b := range []struct {
		name  string
		power int8
	}{
		{"mass", d.mass},
		{"volume", d.volume},
		{"area", d.area},
		{"amount", d.amount},
		{"length", d.length},
		{"time", d.time},
		{"energy", d.energy},
	} {
		for p := b.power; p > 0; p-- {
			up = append(up, b.name)
		}
		for p := b.power; p < 0; p++ {
			down = append(down, b.name)
		}
	}
	switch {
	case len(up)+len(down) == 0:
		return "plain number"
	case len(down) == 0:
		return strings.Join(up, " times ")
	case len(up) == 0:
		up = []string{"number"}
	}
	return strings.Join(up, " times ") + " per " + strings.Join(down, " per ")
}

// Parse reads a quantity such as "1 lb/100 gal", "2 1/2 pt/ac", "0,5 %",
// "5 kg/ha", "34 mM" or "10 L/hL". A unit whose size depends on the country
// (gallon, quart, pint, fluid ounce, cup, spoons) needs the system, unless it is
// written with it ("US gal", "imp gal"). A number whose comma could part
// thousands is refused.
func Parse(text string, s System) (Quantity, error) {
	q, err := parse(text, s)
	if err != nil {
		return Quantity{}, fmt.Errorf("reading the quantity %q: %w", text, err)
	}
	return q, nil
}

func parse(text string, s System) (Quantity, error) {
	if strings.TrimSpace(text) == "" {
		return Quantity{}, fmt.Errorf("it is empty; write a number and a unit")
	}
	n, rest, err := leadingNumber(strings.TrimSpace(text))
	if err != nil {
		return Quantity{}, err
	}
	q := Quantity{value: n}
	for i, part := range strings.Split(rest, "/") {
		part = strings.TrimSpace(part)
		if part == "" && i == 0 && rest == "" {
			break
		}
		sign := int8(1)
		if i > 0 {
			sign = -1
			n, p, err := leadingNumber(part)
			if err != nil {
				return Quantity{}, err
			}
			if n == 0 {
				return Quantity{}, fmt.Errorf("nothing can be divided by zero")
			}
			q.value /= n
			part = p
		}
		u, err := unitOf(part, s)
		if err != nil {
			return Quantity{}, err
		}
		if sign > 0 {
			q.value *= u.value
		} else {
			q.value /= u.value
		}
		q.dim = q.dim.plus(u.dim, sign)
	}
	return q, nil
}

// leadingNumber cuts the number off the start of a text: "2 1/2 lb" is 2.5 and
// "lb". No number counts as 1.
func leadingNumber(text string) (float64, string, error) {
	whole, rest, err := plainNumber(text)
	if err != nil {
		return 0, "", err
	}
	if math.IsNaN(whole) {
		return 1, text, nil
	}
	// A fraction: "1/2 pt" or "2 1/2 pt".
	if up, after, err := plainNumber(rest); err == nil && !math.IsNaN(up) {
		if d, ok := strings.CutPrefix(after, "/"); ok {
			down, tail, err := plainNumber(d)
			if err == nil && down > 0 {
				return whole + up/down, tail, nil
			}
		}
		return 0, "", fmt.Errorf("two numbers follow each other")
	}
	if d, ok := strings.CutPrefix(rest, "/"); ok {
		down, tail, err := plainNumber(d)
		if err == nil && down > 0 && !strings.HasPrefix(tail, "/") {
			return whole / down, tail, nil
		}
	}
	return whole, rest, nil
}

// plainNumber cuts a number without fraction off the start of a text; NaN when
// there is none.
func plainNumber(text string) (float64, string, error) {
	i := strings.IndexFunc(text, func(r rune) bool { return !unicode.IsDigit(r) && r != '.' && r != ',' })
	if i < 0 {
		i = len(text)
	}
	if i == 0 {
		return math.NaN(), text, nil
	}
	s := text[:i]
	if j := strings.IndexByte(s, ','); j >= 0 {
		if strings.Count(s, ",")+strings.Count(s, ".") > 1 || len(s)-j-1 == 3 {
			return 0, "", fmt.Errorf("%q: does the comma part thousands or decimals? Write 1500 or 1.5", s)
		}
		s = strings.Replace(s, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, "", fmt.Errorf("%q is not a number", s)
	}
	return v, strings.TrimSpace(text[i:]), nil
}
