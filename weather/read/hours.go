package read

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"time"

	"oidium/weather"
)

// spanLimit is the longest time in hours a file may span; a row further than
// that from the first one has a wrong date. It bounds the memory of every reader.
const spanLimit = 50 * 366 * 24

// lineLimit is the longest line a reader accepts.
const lineLimit = 1 << 16

// hours collects values by hour as they come, in any order.
type hours struct {
	base int64 // hours since 1970 of the first cell
	cell []cell
}

// cell is one hour: sums weighted by the minutes each value stands for.
type cell struct {
	sum     [weather.NVars]float64
	minutes [weather.NVars]float32
	flag    [weather.NVars]weather.Flag
}

// at returns the cell of the hour that t lies in, or nil where t is too far from
// what came before.
func (h *hours) at(t time.Time) *cell {
	k := floorHour(t)
	if h.cell == nil {
		h.base = k
		h.cell = make([]cell, 1, 24*400)
	}
	i := k - h.base
	switch {
	case i < 0:
		if i < -spanLimit || int64(len(h.cell))-i > spanLimit {
			return nil
		}
		// Files that run backwards would move all cells at every row: leave
		// room in front for as much as there is already.
		room := min(-i+int64(len(h.cell)), spanLimit)
		grown := make([]cell, room+int64(len(h.cell)))
		copy(grown[room:], h.cell)
		h.cell, h.base = grown, h.base-room
		i = k - h.base
	case i >= int64(len(h.cell)):
		if i >= spanLimit {
			return nil
		}
		for int64(len(h.cell)) <= i {
			h.cell = append(h.cell, cell{})
		}
	}
	return &h.cell[i]
}

func floorHour(t time.Time) int64 {
	s := t.Unix()
	k := s / 3600
	if s%3600 < 0 {
		k--
	}
	return k
}

// put adds a value that stands for the given minutes of the hour: the mean over
// them, or the rain that fell in them.
func (c *cell) put(v weather.Var, x, minutes float64, f weather.Flag) {
	if v != weather.Rain {
		x *= minutes
	}
	c.sum[v] += x
	c.minutes[v] += float32(minutes)
	c.flag[v] = max(c.flag[v], f)
}

// full reports whether another value for so many minutes of v would not fit; half
// a minute is left for rounding (numerical).
func (c *cell) full(v weather.Var, minutes float64) bool {
	return float64(c.minutes[v])+minutes > 60.5
}

// Minutes of an hour that must be known for its mean and for its rain; an hour
// of rain known in part would be too dry without anybody noticing.
const (
	minutesMean = 30
	minutesRain = 45
)

// series returns the collected hours and how many values were dropped because
// too little of their hour is known. Empty hours at either end are left off.
func (h *hours) series() (*weather.Series, int) {
	i, j := 0, len(h.cell)
	empty := func(c *cell) bool { return c.minutes == [weather.NVars]float32{} }
	for i < j && empty(&h.cell[i]) {
		i++
	}
	for j > i && empty(&h.cell[j-1]) {
		j--
	}
	dropped := 0
	s := weather.NewSeries(time.Unix((h.base+int64(i))*3600, 0), j-i)
	for k := i; k < j; k++ {
		c := &h.cell[k]
		for v := range weather.Var(weather.NVars) {
			m := c.minutes[v]
			switch {
			case m == 0:
			case v == weather.Rain && m >= minutesRain:
				s.Set(v, k-i, c.sum[v], c.flag[v])
			case v != weather.Rain && m >= minutesMean:
				s.Set(v, k-i, c.sum[v]/float64(m), c.flag[v])
			default:
				dropped++
			}
		}
	}
	return s, dropped
}

// eachHour calls use for every hour that the time from a to b touches, with the
// minutes of it.
func eachHour(a, b time.Time, use func(start time.Time, minutes float64)) {
	for a.Before(b) {
		end := a.Truncate(time.Hour).Add(time.Hour)
		if end.After(b) {
			end = b
		}
		use(a, end.Sub(a).Minutes())
		a = end
	}
}

// lines calls use for every line of r with its number, counted from 1, without
// its end. The bytes are only valid during the call.
func lines(r io.Reader, use func(n int, line []byte) error) error {
	sc := bufio.NewScanner(r)
	sc.Buffer(make([]byte, 0, lineLimit), lineLimit)
	sc.Split(anyLine)
	n := 0
	for sc.Scan() {
		n++
		if err := use(n, sc.Bytes()); err != nil {
			return err
		}
	}
	if errors.Is(sc.Err(), bufio.ErrTooLong) {
		return fmt.Errorf("line %d is longer than %d bytes; this is not a table of weather", n+1, lineLimit)
	}
	return sc.Err()
}

// anyLine splits at LF, CR LF, or a lone CR.
func anyLine(data []byte, atEOF bool) (advance int, token []byte, err error) {
	i := bytes.IndexAny(data, "\r\n")
	switch {
	case i < 0 && atEOF && len(data) > 0:
		return len(data), data, nil
	case i < 0:
		return 0, nil, nil
	case data[i] == '\n':
		return i + 1, data[:i], nil
	case i+1 < len(data):
		if data[i+1] == '\n' {
			return i + 2, data[:i], nil
		}
		return i + 1, data[:i], nil
	case atEOF:
		return i + 1, data[:i], nil
	}
	return 0, nil, nil // the next byte decides
}
