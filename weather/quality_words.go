package weather

import (
	"fmt"

	"oidium/garden"
)

// Warnings returns the report as sentences for the user, the findings of one
// kind and quantity together, in the order in which they were found.
func (q Quality) Warnings() []garden.Warning {
	type group struct {
		first    Finding
		n, hours int
		longest  Finding
	}
	type key struct {
		k Kind
		v Var
	}
	at := make(map[key]int)
	var groups []group
	for _, f := range q.Findings {
		k := key{f.Kind, f.Var}
		i, ok := at[k]
		if !ok {
			i = len(groups)
			at[k] = i
			groups = append(groups, group{first: f})
		}
		g := &groups[i]
		g.n++
		g.hours += f.Hours
		if f.Hours > g.longest.Hours {
			g.longest = f
		}
	}
	out := make([]garden.Warning, len(groups))
	for i, g := range groups {
		out[i] = garden.Warning{Code: "weather-" + string(g.first.Kind), Text: sentence(g.first, g.longest, g.hours)}
	}
	return out
}

func sentence(first, longest Finding, hours int) string {
	v, day := first.Var, first.From.Format("2006-01-02 15:04Z")
	switch first.Kind {
	case OutOfRange:
		return fmt.Sprintf("%s: %d h with values that cannot be true were taken out (first %.4g on %s).", v, hours, first.Value, day)
	case TooBright:
		return fmt.Sprintf("%s: %d h with more light than the sun gives there were taken out (first %.0f W/m² on %s); is the clock or the place wrong?", v, hours, first.Value, day)
	case Spike:
		return fmt.Sprintf("%s: %d h jump and come back (first by %+.1f K on %s); kept, but doubtful.", v, hours, first.Value, day)
	case Stuck:
		return fmt.Sprintf("%s: stands still, longest %d h at %.4g from %s; %d h kept, but doubtful. Is the sensor stuck?", v, longest.Hours, longest.Value, longest.From.Format("2006-01-02 15:04Z"), hours)
	case Gap:
		return fmt.Sprintf("%s: %d h missing, the longest gap %d h from %s.", v, hours, longest.Hours, longest.From.Format("2006-01-02 15:04Z"))
	case Clock:
		word := "fast"
		off := first.Value
		if off < 0 {
			word, off = "slow", -off
		}
		return fmt.Sprintf("the clock is about %.1f h %s by the sun in the weeks from %s; check the time zone and summer time.", off, word, first.From.Format("2006-01-02"))
	case SunHeated:
		return fmt.Sprintf("%s: the thermometer seems to stand in the sun (about %.0f K in full light); shade it and air it, or its warm hours mislead.", v, first.Value)
	case NoRain:
		return fmt.Sprintf("%s: none for %d days from %s; is the gauge blocked?", v, longest.Hours/24, longest.From.Format("2006-01-02"))
	}
	return string(first.Kind)
}
