package weather

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"time"
)

// packVersion is the version of the packed form; see docs/format-weather.md.
const packVersion = 1

// packLimit is the most hours one packed series may hold: 50 years.
const packLimit = 50 * 366 * 24

// Ways a column is written.
const (
	columnEmpty  = 0 // every hour is missing
	columnHundr  = 1 // int16 of hundredths, where that is exact
	columnFloats = 2 // float32
)

const packMissing = math.MinInt16

// Pack returns the series as bytes, without loss; the layout is described in
// docs/format-weather.md. One day of hours is the usual unit.
func (s *Series) Pack() []byte {
	n := s.Len()
	b := make([]byte, 0, 32+n*12)
	b = append(b, 'o', 'w', packVersion)
	b = binary.AppendVarint(b, s.Start.Unix()/3600)
	b = binary.AppendUvarint(b, uint64(n))
	for v := range s.V {
		b = appendColumn(b, s.V[v], s.F[v])
	}
	return binary.LittleEndian.AppendUint32(b, crc32.ChecksumIEEE(b))
}

func appendColumn(b []byte, x []float32, f []Flag) []byte {
	way := byte(columnEmpty)
	for i := range x {
		if f[i] == Missing {
			continue
		}
		way = max(way, columnHundr)
		if _, ok := hundredths(x[i]); !ok {
			way = columnFloats
			break
		}
	}
	b = append(b, way)
	if way == columnEmpty {
		return b
	}
	for i := 0; i < len(f); {
		j := i + 1
		for j < len(f) && f[j] == f[i] {
			j++
		}
		b = append(b, byte(f[i]))
		b = binary.AppendUvarint(b, uint64(j-i))
		i = j
	}
	for i := range x {
		switch {
		case way == columnFloats:
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(x[i]))
		case f[i] == Missing:
			b = binary.LittleEndian.AppendUint16(b, 1<<15)
		default:
			h, _ := hundredths(x[i])
			b = binary.LittleEndian.AppendUint16(b, uint16(h))
		}
	}
	return b
}

// hundredths returns x as a whole number of hundredths and whether that number
// gives back the very same float32.
func hundredths(x float32) (int16, bool) {
	h := math.Round(float64(x) * 100)
	if !(math.Abs(h) < math.MaxInt16) {
		return 0, false
	}
	return int16(h), fromHundredths(int16(h)) == x && !(x == 0 && math.Signbit(float64(x)))
}

func fromHundredths(h int16) float32 { return float32(float64(h) / 100) }

// Unpack reads what [Series.Pack] wrote, of any version.
func Unpack(b []byte) (*Series, error) {
	if len(b) < 7 || b[0] != 'o' || b[1] != 'w' {
		return nil, errors.New("unpack weather: these bytes are not a packed series")
	}
	if b[2] != packVersion {
		return nil, fmt.Errorf("unpack weather: version %d is not known here, only %d; a newer program wrote it", b[2], packVersion)
	}
	body, sum := b[:len(b)-4], binary.LittleEndian.Uint32(b[len(b)-4:])
	if crc32.ChecksumIEEE(body) != sum {
		return nil, errors.New("unpack weather: checksum does not match; the bytes are damaged")
	}
	r := reader{b: body[3:]}
	start := r.varint()
	hours := r.uvarint()
	if r.bad || hours > packLimit || start > 1<<32 || start < -1<<32 {
		return nil, errors.New("unpack weather: the head is damaged")
	}
	// A series without any value still needs no memory of its declared size
	// before the columns are seen, but five bytes may declare at most 50 years.
	s := NewSeries(time.Unix(start*3600, 0), int(hours))
	for v := range s.V {
		r.column(s.V[v], s.F[v])
	}
	if r.bad || len(r.b) != 0 {
		return nil, errors.New("unpack weather: the columns do not fit the head")
	}
	return s, nil
}

type reader struct {
	b   []byte
	bad bool
}

func (r *reader) varint() int64 {
	x, n := binary.Varint(r.b)
	r.skip(n)
	return x
}

func (r *reader) uvarint() uint64 {
	x, n := binary.Uvarint(r.b)
	r.skip(n)
	return x
}

func (r *reader) skip(n int) {
	if n <= 0 || n > len(r.b) {
		r.bad, r.b = true, nil
		return
	}
	r.b = r.b[n:]
}

func (r *reader) byte() byte {
	if len(r.b) == 0 {
		r.bad = true
		return 0
	}
	x := r.b[0]
	r.b = r.b[1:]
	return x
}

func (r *reader) column(x []float32, f []Flag) {
	way := r.byte()
	switch way {
	case columnEmpty:
		return
	case columnHundr, columnFloats:
	default:
		r.bad = true
		return
	}
	for i := 0; i < len(f) && !r.bad; {
		flag, run := r.byte(), r.uvarint()
		if flag >= byte(flags) || run == 0 || run > uint64(len(f)-i) {
			r.bad = true
			return
		}
		for range run {
			f[i] = Flag(flag)
			i++
		}
	}
	width := 2
	if way == columnFloats {
		width = 4
	}
	if r.bad || len(r.b) < width*len(x) {
		r.bad = true
		return
	}
	for i := range x {
		p := r.b[width*i:]
		v := float32(math.NaN())
		if way == columnFloats {
			v = math.Float32frombits(binary.LittleEndian.Uint32(p))
		} else if h := int16(binary.LittleEndian.Uint16(p)); h != packMissing {
			v = fromHundredths(h)
		}
		if (v != v) != (f[i] == Missing) {
			r.bad = true
			return
		}
		x[i] = v
	}
	r.b = r.b[width*len(x):]
}
