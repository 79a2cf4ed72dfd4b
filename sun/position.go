package sun

import (
	"math"
	"time"
)

const rad = math.Pi / 180

// ephemeris returns the declination in degrees and the equation of time in
// minutes at t: the low-accuracy sun of Meeus 1998, ch. 25 (0.01°), with T in
// Julian centuries from J2000.
//
//	L0 mean longitude, M mean anomaly, C equation of the centre,
//	λ apparent longitude, ε obliquity; sin δ = sin ε sin λ
//
// The difference between universal and dynamical time (about a minute) moves
// the sun by less than 0.001° and is left out.
func ephemeris(t time.Time) (decl, eot float64) {
	T := julianCentury(t)
	l0 := math.Mod(280.46646+T*(36000.76983+0.0003032*T), 360) * rad
	m := (357.52911 + T*(35999.05029-0.0001537*T)) * rad
	e := 0.016708634 - T*(0.000042037+0.0000001267*T)
	sm, cm := math.Sincos(m)
	s2m := 2 * sm * cm
	c := sm*(1.914602-T*(0.004817+0.000014*T)) + s2m*(0.019993-0.000101*T) + math.Sin(3*m)*0.000289
	omega := (125.04 - 1934.136*T) * rad
	so, co := math.Sincos(omega)
	lambda := l0 + (c-0.00569-0.00478*so)*rad
	eps := (23 + (26+(21.448-T*(46.815+T*(0.00059-0.001813*T)))/60)/60 + 0.00256*co) * rad
	decl = math.Asin(math.Sin(eps)*math.Sin(lambda)) / rad
	y := math.Tan(eps / 2)
	y *= y
	s2l, c2l := math.Sincos(2 * l0)
	eot = 4 / rad * (y*s2l - 2*e*sm + 4*e*y*sm*c2l - y*y*s2l*c2l - 1.25*e*e*s2m)
	return decl, eot
}

// julianCentury returns Julian centuries since 2000-01-01 12:00; the numbers are
// exact, by definition of the Julian day.
func julianCentury(t time.Time) float64 {
	jd := float64(t.Unix())/86400 + float64(t.Nanosecond())/86400e9 + 2440587.5
	return (jd - 2451545) / 36525
}

// Position returns the elevation of the sun's centre above the horizon, without
// refraction, and its azimuth clockwise from north, both in degrees.
func Position(t time.Time, lat, lon float64) (elevation, azimuth float64) {
	decl, eot := ephemeris(t)
	u := t.UTC()
	minutes := float64(u.Hour()*60+u.Minute()) + (float64(u.Second())+float64(u.Nanosecond())/1e9)/60
	h := ((minutes+eot+4*lon)/4 - 180) * rad
	sp, cp := math.Sincos(lat * rad)
	sd, cd := math.Sincos(decl * rad)
	sh, ch := math.Sincos(h)
	elevation = math.Asin(clamp(sp*sd+cp*cd*ch, -1, 1)) / rad
	azimuth = math.Atan2(-sh*cd, cp*sd-sp*cd*ch) / rad
	if azimuth < 0 {
		azimuth += 360
	}
	return elevation, azimuth
}

func clamp(x, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, x)) }
