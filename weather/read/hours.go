package read

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"time"

	"oidium/weather"
)

// spanLimit is the longest time a file may span; a row further than that from
// the first one has a wrong date. It bounds the memory of every reader.
const spanLimit = 50 * 366 * 24

// lineLimit is the longest line a reader accepts.
const lineLimit = 1 << 16

// hours collects values by hour as they come, in any order.
type hours struct {
	base int64 // hours since 1970 of the first cell
	cell []cell
}

type cell struct {
	sum [weather.NVars]float64
	n   [weather.NVars]uint32
	f   [weather.NVars]weather.Flag
}

// at returns the cell of the hour that starts at t, or nil where t is too far
// from what came before.
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

func (c *cell) put(v weather.Var, x float64, f weather.Flag) {
	c.sum[v] += x
	c.n[v]++
	c.f[v] = max(c.f[v], f)
}

// series returns the collected hours: means, sums of rain. Cells without any
// value at either end are left off.
func (h *hours) series() *weather.Series {
	i, j := 0, len(h.cell)
	empty := func(c *cell) bool { return c.n == [weather.NVars]uint32{} }
	for i < j && empty(&h.cell[i]) {
		i++
	}
	for j > i && empty(&h.cell[j-1]) {
		j--
	}
	s := weather.NewSeries(time.Unix((h.base+int64(i))*3600, 0), j-i)
	for k := i; k < j; k++ {
		c := &h.cell[k]
		for v := range weather.NVars {
			if c.n[v] == 0 {
				continue
			}
			x := c.sum[v]
			if weather.Var(v) != weather.Rain {
				x /= float64(c.n[v])
			}
			s.Set(weather.Var(v), k-i, x, c.f[v])
		}
	}
	return s
}

// lines calls use for every line of r with its number, counted from 1, without
// its end. The bytes are only valid during the call.
func lines(r io.Reader, use func(n int, line []byte) error) error {
	sc := bufio.NewScanner(r)
	sc.Buffer(make([]byte, 0, lineLimit), lineLimit)
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
