package store

import (
	"encoding/binary"
	"errors"
	"math"
	"time"

	"oidium/internal/ledger"
)

// The packed form of the hours of one entry that begin on one UTC day:
//
//	byte     version, 1
//	varint   minutes from the start of the day to the first hour
//	uvarint  number of hours, n
//	then for each of t, rh, wind, rain, rad
//	byte     way: 0 the column is not stated, 1 decimals, 2 floats
//	decimals: byte d; n times a varint, 2·(difference to the value before) of the
//	         value times 10^d, or the varint 1 for a missing value
//	floats:  n float64, little-endian; NaN for a missing value
//
// Decimals are used where they give back the very same float64, so packing
// loses nothing.
const packVersion = 1

const (
	wayAbsent   = 0
	wayDecimals = 1
	wayFloats   = 2
)

// maxDecimals bounds the number of decimals tried.
const maxDecimals = 6

// dayHours are the hours of an entry that begin on one UTC day.
type dayHours struct {
	day  int64
	data []byte
}

func columns(h *ledger.Hours) [5]*ledger.Values {
	return [5]*ledger.Values{&h.T, &h.RH, &h.Wind, &h.Rain, &h.Rad}
}

func hoursLen(h *ledger.Hours) int {
	n := 0
	for _, c := range columns(h) {
		n = max(n, len(*c))
	}
	return n
}

const daySeconds = 24 * 3600

// packDays packs the hours day by day.
func packDays(h *ledger.Hours) []dayHours {
	var out []dayHours
	n := hoursLen(h)
	for from := 0; from < n; {
		at := h.Start.Add(time.Duration(from) * time.Hour).Unix()
		day := floorDiv(at, daySeconds)
		left := (day+1)*daySeconds - at
		to := min(n, from+int((left+3599)/3600)) // hours that begin before the day ends
		b := []byte{packVersion}
		b = binary.AppendVarint(b, (at-day*daySeconds)/60)
		b = binary.AppendUvarint(b, uint64(to-from))
		for _, c := range columns(h) {
			if *c == nil {
				b = append(b, wayAbsent)
				continue
			}
			b = packColumn(b, (*c)[from:to])
		}
		out = append(out, dayHours{day, b})
		from = to
	}
	return out
}

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func packColumn(b []byte, v ledger.Values) []byte {
	d := decimals(v)
	if d < 0 {
		b = append(b, wayFloats)
		for _, x := range v {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
		return b
	}
	b = append(b, wayDecimals, byte(d))
	scale := math.Pow10(d)
	before := int64(0)
	for _, x := range v {
		if math.IsNaN(x) {
			b = binary.AppendVarint(b, 1)
			continue
		}
		k := int64(math.Round(x * scale))
		b = binary.AppendVarint(b, 2*(k-before))
		before = k
	}
	return b
}

// decimals returns how many decimals hold every value exactly, or -1.
func decimals(v ledger.Values) int {
	d := 0
	for _, x := range v {
		if math.IsNaN(x) {
			continue
		}
		for ; ; d++ {
			if d > maxDecimals {
				return -1
			}
			k := math.Round(x * math.Pow10(d))
			if math.Abs(k) < 1<<40 && k/math.Pow10(d) == x {
				break
			}
		}
	}
	// A value that was exact with fewer decimals must still be with d.
	for _, x := range v {
		if !math.IsNaN(x) && math.Round(x*math.Pow10(d))/math.Pow10(d) != x {
			return -1
		}
	}
	return d
}

var errPacked = errors.New("packed weather is damaged")

// unpackDays puts packed days together again; they must be in order of day.
func unpackDays(days []dayHours) (*ledger.Hours, error) {
	h := &ledger.Hours{}
	for i, d := range days {
		r := &unpacker{b: d.data}
		if r.byte() != packVersion {
			return nil, errPacked
		}
		minutes := r.varint()
		n := r.uvarint()
		if r.bad || n > 25 {
			return nil, errPacked
		}
		if i == 0 {
			h.Start = time.Unix(d.day*daySeconds+minutes*60, 0).UTC()
		}
		for _, c := range columns(h) {
			*c = r.column(*c, int(n))
		}
		if r.bad || len(r.b) != 0 {
			return nil, errPacked
		}
	}
	return h, nil
}

type unpacker struct {
	b   []byte
	bad bool
}

func (r *unpacker) byte() byte {
	if len(r.b) == 0 {
		r.bad = true
		return 0
	}
	x := r.b[0]
	r.b = r.b[1:]
	return x
}

func (r *unpacker) varint() int64 {
	x, n := binary.Varint(r.b)
	return took(r, x, n)
}

func (r *unpacker) uvarint() uint64 {
	x, n := binary.Uvarint(r.b)
	return took(r, x, n)
}

func took[T int64 | uint64](r *unpacker, x T, n int) T {
	if n <= 0 {
		r.bad, r.b = true, nil
		return 0
	}
	r.b = r.b[n:]
	return x
}

func (r *unpacker) column(v ledger.Values, n int) ledger.Values {
	switch r.byte() {
	case wayAbsent:
	case wayFloats:
		if len(r.b) < 8*n {
			r.bad = true
			return v
		}
		for range n {
			v = append(v, math.Float64frombits(binary.LittleEndian.Uint64(r.b)))
			r.b = r.b[8:]
		}
	case wayDecimals:
		d := r.byte()
		if d > maxDecimals {
			r.bad = true
			return v
		}
		scale := math.Pow10(int(d))
		before := int64(0)
		for range n {
			k := r.varint()
			if k%2 != 0 {
				v = append(v, math.NaN())
				continue
			}
			before += k / 2
			v = append(v, float64(before)/scale)
		}
	default:
		r.bad = true
	}
	return v
}
