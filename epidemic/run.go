package epidemic

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"

	"oidium/chance"
	"oidium/garden"
	"oidium/mildew"
)

// RunAt simulates the stand with members at the given positions within the
// priors of their parameters (see [Draw]), on the given number of workers (at
// least one). The result is the same for any number of workers. It fails if the
// stand is incomplete or ctx ends.
func RunAt(ctx context.Context, st *Stand, z []Position, workers int) (*Ensemble, error) {
	if err := st.check(); err != nil {
		return nil, err
	}
	members := len(z)
	if members < 1 {
		return nil, fmt.Errorf("epidemic in bed %q: no members; at least one is needed", st.Key.Bed)
	}
	e := &Ensemble{
		stand:  st,
		params: make([]Params, members),
		slot:   make([]int, members),
		from:   st.Start,
		days:   st.Drivers.days() + 1,
		fork:   st.Start + garden.Day(len(st.Drivers.Known)),
		saved:  make([]kept, members),
	}
	for m := range e.slot {
		e.slot[m] = m
	}
	known, err := st.climate(st.Drivers.Known, 0, st.Drivers.KnownAir, st.Effects)
	if err != nil {
		return nil, err
	}
	c := st.before()
	start := c
	past := st.lay(&c, 0, known, st.Effects)
	e.canopy = c
	ahead, err := e.ahead(st.Effects)
	if err != nil {
		return nil, err
	}
	e.records = make([]record, members*e.days)
	// The first morning is counted by the ages of the first day.
	var first day
	if len(past) > 0 {
		first = past[0]
	} else {
		first = ahead[0][0]
	}
	err = each(ctx, members, workers, func(m int) {
		e.params[m] = st.Params(z[m])
		r := st.rates(e.params[m])
		var s state
		out := e.records[m*e.days : (m+1)*e.days]
		for k, a := range start.area {
			s.leaf[k].left = 1
			s.unfold(k, a)
		}
		s.free = total(&start.free)
		s.morning(&first, &out[0])
		st.walk(&s, &r, m, past, out[1:])
		e.saved[m] = s.keep()
		if len(ahead) > 0 {
			// As a trial starts, so that the two agree to the last bit.
			s.resume(&e.saved[m])
			st.walk(&s, &r, m, ahead[st.Drivers.scenario(m)], out[1+len(past):])
		}
	})
	if err != nil {
		return nil, err
	}
	return e, nil
}

// Try runs the days from the morning of from once more with further effects,
// starting from the states kept there: same chances, same weather, nothing of
// the past computed again. from must be the day after the last known one, or
// later. members names those to run, nil runs all. The result has records from
// that morning on and can itself be asked with At.
func (e *Ensemble) Try(ctx context.Context, from garden.Day, effects []garden.Effect, members []int, workers int) (*Ensemble, error) {
	st := e.stand
	last := st.Start + garden.Day(st.Drivers.days())
	if from < e.fork || from >= last || e.saved == nil {
		return nil, fmt.Errorf("epidemic in bed %q: cannot try from %s; days from %s to %s can be tried", st.Key.Bed, from, e.fork, last-1)
	}
	for _, x := range effects {
		if x.Day < from {
			return nil, fmt.Errorf("epidemic in bed %q: an effect on %s lies before %s, from where it is tried", st.Key.Bed, x.Day, from)
		}
	}
	t := &Ensemble{
		stand: st, params: e.params, slot: make([]int, len(e.slot)),
		from: e.fork, days: st.Drivers.days() - len(st.Drivers.Known) + 1, fork: e.fork,
	}
	run := 0
	for m := range t.slot {
		t.slot[m] = -1
		if members == nil {
			t.slot[m] = m
			run++
		}
	}
	for _, m := range members {
		if m < 0 || m >= len(t.slot) {
			return nil, fmt.Errorf("epidemic in bed %q: there is no member %d", st.Key.Bed, m)
		}
		if t.slot[m] < 0 {
			t.slot[m] = run
			run++
		}
	}
	t.canopy = e.canopy
	both := append(append([]garden.Effect(nil), st.Effects...), effects...)
	ahead, err := t.ahead(both)
	if err != nil {
		return nil, err
	}
	t.records = make([]record, run*t.days)
	err = each(ctx, len(t.slot), workers, func(m int) {
		if t.slot[m] < 0 {
			return
		}
		r := st.rates(e.params[m])
		var s state
		s.resume(&e.saved[m])
		out := t.records[t.slot[m]*t.days:][:t.days]
		out[0] = e.morning(m)
		st.walk(&s, &r, m, ahead[st.Drivers.scenario(m)], out[1:])
	})
	if err != nil {
		return nil, err
	}
	return t, nil
}

// morning returns the record of a member on the morning of the fork.
func (e *Ensemble) morning(m int) record {
	return e.records[e.slot[m]*e.days+int(e.fork-e.from)]
}

// ahead lays the rows of every scenario from the fork on.
func (e *Ensemble) ahead(effects []garden.Effect) ([][]day, error) {
	st := e.stand
	from := len(st.Drivers.Known)
	out := make([][]day, len(st.Drivers.Ahead))
	for k, w := range st.Drivers.Ahead {
		var air []mildew.Hours
		if k < len(st.Drivers.AheadAir) {
			air = append(append(air, st.Drivers.KnownAir...), st.Drivers.AheadAir[k]...)
		}
		w, err := st.climate(w, from, air, effects)
		if err != nil {
			return nil, err
		}
		c := e.canopy
		out[k] = st.lay(&c, from, w, effects)
	}
	return out, nil
}

// span is the number of days that share a stream of chances, a power of two.
const span = 16

// walk moves a member over the days and notes each evening.
func (st *Stand) walk(s *state, r *rates, member int, days []day, out []record) {
	key := st.Key
	key.Member, key.Process = member, chance.Arrival
	var stream chance.Stream
	for i := range days {
		// One stream serves a span of days, counted from a fixed date, so that a day's
		// chances hang on its date alone.
		on := int(st.Start) + days[i].index
		if past := on & (span - 1); past == 0 || i == 0 {
			key.Day = on - past
			stream.Reset(key)
			for range 2 * past {
				stream.Uint64()
			}
		}
		l := luck{outside: stream.Uniform(), carried: stream.Uniform()}
		s.step(r, &days[i], l, &out[i])
	}
}

// each calls do for every member, spread over workers. What do writes must
// belong to its member.
func each(ctx context.Context, members, workers int, do func(member int)) error {
	workers = max(1, min(workers, members))
	var next atomic.Int64
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			const chunk = 8
			for {
				hi := int(next.Add(chunk))
				if hi-chunk >= members || ctx.Err() != nil {
					return
				}
				for m := hi - chunk; m < min(hi, members); m++ {
					do(m)
				}
			}
		})
	}
	wait.Wait()
	return ctx.Err()
}
