package sun

import (
	"math"
	"time"

	"oidium/garden"
)

// Light is one day's light at a place. On a polar day Rise and Set are 12 h
// either side of Noon; in a polar night both are Noon.
type Light struct {
	Rise, Noon, Set time.Time // UTC
	Hours           float64   // from Rise to Set, 0 to 24
}

// RiseSet returns the light of the solar day whose noon falls on d at the
// longitude lon: the upper edge of the sun against a flat horizon.
func RiseSet(d garden.Day, lat, lon float64) Light {
	mean := d.At(12, time.UTC).Add(minutes(-4 * lon))
	noon := mean
	for range 2 {
		_, eot := ephemeris(noon)
		noon = mean.Add(minutes(-eot))
	}
	decl, _ := ephemeris(noon)
	h := riseAngle(lat, decl)
	l := Light{Noon: noon, Rise: noon.Add(minutes(-4 * h)), Set: noon.Add(minutes(4 * h))}
	if h > 0 && h < 180 {
		// The sun moves between noon and the event; two corrections at the
		// time of the event leave less than a second away from the circles.
		for range 2 {
			l.Rise = event(l.Rise, mean, lat, -1, h)
			l.Set = event(l.Set, mean, lat, 1, h)
		}
	}
	l.Hours = l.Set.Sub(l.Rise).Hours()
	return l
}

// event returns when the sun stands at its rising angle, with declination and
// equation of time of the guess t; h is used where the sun of the guess does
// not rise at all (first and last day of a polar season).
func event(t, mean time.Time, lat, sign, h float64) time.Time {
	decl, eot := ephemeris(t)
	if a := riseAngle(lat, decl); a > 0 && a < 180 {
		h = a
	}
	return mean.Add(minutes(sign*4*h - eot))
}

// riseAngle returns the hour angle of rising in degrees, 0 in a polar night and
// 180 on a polar day.
func riseAngle(lat, decl float64) float64 {
	sp, cp := math.Sincos(lat * rad)
	sd, cd := math.Sincos(decl * rad)
	den := cp * cd
	num := math.Cos(riseZenith.V*rad) - sp*sd
	if den < 1e-12 { // at a pole
		if num < 0 {
			return 180
		}
		return 0
	}
	return math.Acos(clamp(num/den, -1, 1)) / rad
}

// DayLength returns the hours of d, 0 to 24, during which some of the sun is
// above a flat horizon at the latitude lat.
func DayLength(lat float64, d garden.Day) float64 {
	decl, _ := ephemeris(d.At(12, time.UTC))
	return riseAngle(lat, decl) / 7.5 // exact: twice the half day, 15° an hour
}

// MeanClock returns rising and setting on the mean solar clock of the place, in
// hours from its midnight, from FAO-56's orbit: good to about ten minutes and
// thirty times cheaper than [RiseSet]. On a polar day they are 12 h either side
// of noon, in a polar night both are noon.
func MeanClock(d garden.Day, lat float64) (rise, set float64) {
	j := d.YearDay()
	_, decl := orbit(j)
	half := riseAngle(lat, decl/rad) / 15
	noon := 12 - seasonal(j)
	return noon - half, noon + half
}

func minutes(m float64) time.Duration { return time.Duration(m * float64(time.Minute)) }
