package work

import (
	"math"
	"slices"

	"oidium/garden"
	"oidium/host"
	"oidium/mildew"
	"oidium/weather"
)

// What is worth a line: heat of an hour a day, over a week back and a week ahead,
// and the air that the balance of a mildew is judged in. Assumptions of wording;
// nothing is reckoned with them.
const (
	heatDays  = 7
	heatHours = 7
	heatRH    = 80 // %
)

// heatNotes tells for each bed from which warmth on its mildew loses ground and how
// many hours of the week behind and of the week ahead are beyond it.
func (s *sky) heatNotes(plots []*plot) {
	for _, p := range plots {
		for _, st := range p.stands {
			from, ok := losesFrom(p.crop, st.mildew)
			if !ok {
				continue
			}
			behind := hoursFrom(p.air.known, s.begin(s.today-heatDays).Unix(), s.knownTo.Unix(), from)
			var each []int
			for _, a := range p.air.ahead {
				each = append(each, hoursFrom(a, s.knownTo.Unix(), s.begin(s.today+heatDays).Unix(), from))
			}
			ahead := 0
			if len(each) > 0 {
				slices.Sort(each)
				ahead = each[len(each)/2]
			}
			if behind < heatHours && ahead < heatHours {
				continue
			}
			s.warnings = append(s.warnings, garden.Warning{
				Code: "too-hot-for-mildew", Bed: p.bed.ID,
				Text: remark("heat", "name", st.mildew.Name, "t", short(from), "behind", behind, "days", heatDays, "ahead", ahead),
			})
		}
	}
}

// losesFrom returns the lowest whole temperature (°C) above the best one at which
// the mildew, held in it day and night on the crop, loses more leaf than it wins;
// ok is false where it does not up to 45 °C.
func losesFrom(c *host.Crop, m *mildew.Pathosystem) (float64, bool) {
	best, at := math.Inf(-1), 0.0
	for t := 10.0; t <= 35; t++ {
		if r := speedOf(c, m, t, heatRH).Rate; r > best {
			best, at = r, t
		}
	}
	if best <= 0 {
		return 0, false
	}
	for t := at + 1; t <= 45; t++ {
		if speedOf(c, m, t, heatRH).Rate <= 0 {
			return t, true
		}
	}
	return 0, false
}

// hoursFrom counts the hours between two instants in which the air is at least so
// warm.
func hoursFrom(w *weather.Series, from, to int64, t float64) int {
	n := 0
	for i, x := range w.V[weather.Temp] {
		if at := w.Time(i).Unix(); at >= from && at < to && float64(x) >= t {
			n++
		}
	}
	return n
}
