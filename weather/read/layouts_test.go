package read

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"oidium/sun"
	"oidium/weather"
)

var update = flag.Bool("update", false, "write testdata/layouts anew from the measured files")

// hour is one hour of a measured series as a file may show it.
type hour struct {
	i              int
	end            time.Time // UTC
	t, rh, u, r, q float64   // °C, %, m/s at 2 m, mm, W/m²
}

// aLayout is one way of writing a stretch of a measured file.
type aLayout struct {
	name  string
	of    string // which file
	from  string // first hour, UTC
	hours int
	write func(h []hour) []byte
	o     Options
	// tol is what the rounding of the layout costs; −1 leaves a quantity out.
	tol  [weather.NVars]float64
	edge int // hours at either end that may be cut
	// want changes the series that is expected.
	want func(s *weather.Series) *weather.Series
}

// table writes a head and a line for each hour.
func written(head string, line func(h hour) string) func([]hour) []byte {
	return func(hs []hour) []byte {
		var b strings.Builder
		b.WriteString(head)
		for _, h := range hs {
			if s := line(h); s != "" {
				b.WriteString(s)
				b.WriteString("\n")
			}
		}
		return []byte(b.String())
	}
}

// num prints with n decimals, "miss" where there is no value.
func num(x float64, n int, miss string) string {
	if x != x {
		return miss
	}
	return strconv.FormatFloat(x, 'f', n, 64)
}

func comma(x float64, n int) string { return strings.Replace(num(x, n, ""), ".", ",", 1) }

func fahrenheit(c float64) float64 { return c*9/5 + 32 }

func latin1(b []byte) []byte {
	var out []byte
	for _, r := range string(b) {
		out = append(out, byte(r))
	}
	return out
}

func utf16le(b []byte, mark bool) []byte {
	var out []byte
	if mark {
		out = append(out, 0xff, 0xfe)
	}
	for _, u := range utf16.Encode([]rune(string(b))) {
		out = append(out, byte(u), byte(u>>8))
	}
	return out
}

func zone(name string) *time.Location {
	z, err := time.LoadLocation(name)
	if err != nil {
		return nil
	}
	return z
}

var (
	amsterdam = zone("Europe/Amsterdam")
	newYork   = zone("America/New_York")
	deBilt    = &Place{52.10, 5.18, 2, true}
	exact     = [weather.NVars]float64{0.05, 0.5, 0.05, 0.05, 0.5} // numerical: as the layouts round
)

// in returns a copy of exact with some quantities left out.
func without(vs ...weather.Var) [weather.NVars]float64 {
	tol := exact
	for _, v := range vs {
		tol[v] = -1
	}
	return tol
}

var layouts = []aLayout{
	{name: "tabs-two-heads-us.txt", of: "newark", from: "2013-06-01T04:00:00Z", hours: 240, o: Options{Zone: newYork}, tol: [5]float64{0.06, 0.5, 0.05, 0.13, -1}, write: written(
		"\t\tTemp\tOut\tWind\tWind\t\tHeat\tIn\tIn\nDate\tTime\tOut\tHum\tSpeed\tDir\tRain\tIndex\tTemp\tHum\n", func(h hour) string {
			l := h.end.In(newYork)
			return fmt.Sprintf("%s\t%s\t%s\t%s\t%s\tNNW\t%s\t---\t70.1\t44", l.Format("1/2/06"), l.Format("3:04 PM"), num(fahrenheit(h.t), 1, "---"), num(h.rh, 0, "---"), num(h.u/0.44704, 1, "---"), num(h.r/25.4, 2, "---"))
		})},
	{name: "semicolon-decimal-comma-latin1.csv", of: "debilt", from: "2000-03-20T00:00:00Z", hours: 240, o: Options{Zone: amsterdam}, tol: exact, write: func(h []hour) []byte {
		return latin1(written("Datum;Uhrzeit;Temperatur [°C];Luftfeuchte [%];Windgeschwindigkeit [km/h];Windrichtung;Niederschlag [mm];Globalstrahlung [W/m²]\r\n", func(h hour) string {
			l := h.end.In(amsterdam)
			return fmt.Sprintf("%s;%s;%s;%s;%s;SW;%s;%s\r", l.Format("02.01.2006"), l.Format("15:04"), comma(h.t, 1), comma(h.rh, 0), comma(h.u*3.6, 1), comma(h.r, 1), comma(h.q, 0))
		})(h))
	}},
	{name: "utf16-mark-tabs.txt", of: "debilt", from: "2000-07-01T00:00:00Z", hours: 120, tol: exact, write: func(h []hour) []byte {
		return utf16le(written("Time (UTC)\tAir temp. °C\tRH %\tWind m/s\tRain mm\tSolar W/m²\r\n", isoLine("\t", "2006-01-02 15:04:05", "\r"))(h), true)
	}},
	{name: "utf16-no-mark.csv", of: "debilt", from: "2000-07-01T00:00:00Z", hours: 120, tol: exact, write: func(h []hour) []byte {
		return utf16le(written("Time UTC,Temp C,RH %,Wind m/s,Rain mm,Solar W/m2\n", isoLine(",", "2006-01-02 15:04:05", ""))(h), false)
	}},
	{name: "mark-iso-zulu.csv", of: "debilt", from: "2000-05-01T00:00:00Z", hours: 120, tol: exact, write: written(
		"\ufefftimestamp,temperature_c,humidity_pct,wind_ms,rain_mm,solar_wm2\n", isoLine(",", time.RFC3339, ""))},
	{name: "iso-offset.csv", of: "debilt", from: "2000-10-27T00:00:00Z", hours: 120, tol: exact, write: written(
		"datetime,AirTemp (degC),RelHumidity (%),WindSpeed (m/s),Precipitation (mm),GlobalRadiation (W/m2)\n", func(h hour) string {
			return isoLine(",", "2006-01-02T15:04:05-07:00", "")(hour{h.i, h.end.In(amsterdam), h.t, h.rh, h.u, h.r, h.q})
		})},
	{name: "local-autumn-hour-twice.csv", of: "debilt", from: "2000-10-25T22:00:00Z", hours: 144, o: Options{Zone: amsterdam}, tol: exact, write: written(
		"Date,Time,Temp (C),RH (%),Wind (m/s),Rain (mm),Solar (W/m2)\n", func(h hour) string {
			l := h.end.In(amsterdam)
			return fmt.Sprintf("%s,%s,%s", l.Format("2006-01-02"), l.Format("15:04"), five(h, ","))
		})},
	{name: "local-without-summer-time.csv", of: "debilt", from: "2000-03-20T23:00:00Z", hours: 240, o: Options{Zone: amsterdam}, tol: exact, write: written(
		"Date,Time,Temp (C),RH (%),Wind (m/s),Rain (mm),Solar (W/m2)\n", func(h hour) string {
			l := h.end.Add(time.Hour)
			return fmt.Sprintf("%s,%s,%s", l.Format("2006-01-02"), l.Format("15:04"), five(h, ","))
		})},
	{name: "month-first-am-pm.csv", of: "newark", from: "2013-07-09T05:00:00Z", hours: 168, o: Options{Zone: newYork}, tol: [5]float64{0.06, 0.5, 0.05, 0.13, -1}, write: written(
		"\"Date/Time\",\"Outdoor Temperature (°F)\",\"Outdoor Humidity (%)\",\"Wind Speed (mph)\",\"Wind Gust (mph)\",\"Hourly Rain (in)\",\"Indoor Temperature (°F)\"\n", func(h hour) string {
			return fmt.Sprintf("%q,%s,%s,%s,,%s,71", h.end.In(newYork).Format("01/02/2006 03:04 PM"), num(fahrenheit(h.t), 1, "--"), num(h.rh, 0, "--"), num(h.u/0.44704, 1, "--"), num(h.r/25.4, 2, "--"))
		})},
	{name: "day-first-slashes.csv", of: "oakpark", from: "2017-05-01T00:00:00Z", hours: 240, o: Options{Zone: time.UTC}, tol: without(weather.Rad), write: written(
		"date,rain (mm),temp (C),rhum (%),wdsp (kt),wddir (deg)\n", func(h hour) string {
			return fmt.Sprintf("%s,%s,%s,%s,%s,220", h.end.Format("02/01/2006 15:04"), num(h.r, 1, " "), num(h.t, 1, " "), num(h.rh, 0, " "), num(h.u*3600/1852, 2, " "))
		})},
	{name: "kelvin-epoch.csv", of: "debilt", from: "2000-06-01T00:00:00Z", hours: 120, tol: exact, write: written(
		"dt,temp (K),humidity (fraction),wind (m/s),rain (mm),global radiation (W/m2)\n", func(h hour) string {
			return fmt.Sprintf("%d,%s,%s,%s,%s,%s", h.end.Unix(), num(h.t+273.15, 2, ""), num(h.rh/100, 3, ""), num(h.u, 2, ""), num(h.r, 1, ""), num(h.q, 0, ""))
		}), want: nil},
	{name: "epoch-milliseconds.csv", of: "debilt", from: "2000-06-01T00:00:00Z", hours: 72, tol: exact, write: written(
		"unix;t2m (°C);rh (%);u2 (m/s);ppt (mm);ghi (W/m2)\n", func(h hour) string {
			return fmt.Sprintf("%d;%s", h.end.UnixMilli(), five(h, ";"))
		})},
	{name: "year-month-day-hour-24.csv", of: "debilt", from: "2000-01-10T00:00:00Z", hours: 240, o: Options{Zone: time.UTC}, tol: exact, write: written(
		"Year,Month,Day,Hour,Tair,RH,WS,Rain,Rs\n,,,,degC,%,m/s,mm,MJ/m2\n", func(h hour) string {
			b := h.end.Add(-time.Hour)
			return fmt.Sprintf("%d,%d,%d,%d,%s,%s,%s,%s,%s", b.Year(), b.Month(), b.Day(), b.Hour()+1, num(h.t, 1, "-99.9"), num(h.rh, 0, "-999"), num(h.u, 2, "-999"), num(h.r, 1, "-999"), num(h.q*3600e-6, 4, "-999"))
		})},
	{name: "day-of-year-hhmm-blanks.txt", of: "debilt", from: "2000-02-20T00:00:00Z", hours: 240, o: Options{Zone: time.UTC, Year: 2000}, tol: exact, write: written(
		"jday hhmm  air_temp_c   rh_%   wind_m/s_10m  rain_mm   solar_w/m2\n", func(h hour) string {
			b := h.end
			return fmt.Sprintf("%4d %04d %8s %6s %8s %7s %8s", b.YearDay(), b.Hour()*100, num(h.t, 1, "-6999"), num(h.rh, 0, "-6999"), num(h.u/weather.WindAt2m(1, 10), 2, "-6999"), num(h.r, 1, "-6999"), num(h.q, 0, "-6999"))
		})},
	{name: "bars-na.txt", of: "oakpark", from: "2017-11-09T00:00:00Z", hours: 168, o: Options{Zone: time.UTC}, tol: without(weather.Rad), write: written(
		"# written for a test\n# Station|Time|Temp °C|RH %|Wind m/s|Rain mm\nStation|Time|Temp °C|RH %|Wind m/s|Rain mm\n", func(h hour) string {
			return fmt.Sprintf("A7|%s|%s|%s|%s|%s", h.end.Format("2006/01/02 15:04"), num(h.t, 1, "NA"), num(h.rh, 0, "NA"), num(h.u, 2, "NA"), num(h.r, 1, "NA"))
		})},
	{name: "quoted-decimal-comma.csv", of: "debilt", from: "2000-08-01T00:00:00Z", hours: 120, o: Options{Zone: time.UTC}, tol: exact, write: written(
		"\"Tijd (UTC)\",\"Luchttemperatuur, °C\",\"Relatieve vochtigheid, %\",\"Windsnelheid, m/s\",\"Neerslag, mm\",\"Globale straling, J/cm2\"\n", func(h hour) string {
			return fmt.Sprintf("\"%s\",\"%s\",\"%s\",\"%s\",\"%s\",\"%s\"", h.end.Format("02-01-2006 15:04"), comma(h.t, 1), comma(h.rh, 1), comma(h.u, 2), comma(h.r, 1), comma(h.q*3600e-4, 2))
		})},
	{name: "rain-counts-up.csv", of: "debilt", from: "2000-07-01T00:00:00Z", hours: 240, o: Options{Zone: time.UTC}, tol: exact, edge: 1, write: func(hs []hour) []byte {
		total := 417.2
		return written("Time,Temp C,RH %,Wind m/s,Rain total mm,Solar W/m2\n", func(h hour) string {
			total += h.r
			x := h
			x.r = total
			return isoLine(",", "2006-01-02 15:04", "")(x)
		})(hs)
	}},
	{name: "rain-of-the-day.csv", of: "debilt", from: "2000-07-01T00:00:00Z", hours: 240, o: Options{Zone: time.UTC}, tol: exact, edge: 1, write: func(hs []hour) []byte {
		sum := 0.0
		return written("Time,Temp C,RH %,Wind m/s,Daily rain mm,Rain rate mm/h,Solar W/m2\n", func(h hour) string {
			if h.end.Hour() == 1 {
				sum = 0
			}
			sum += h.r
			return fmt.Sprintf("%s,%s,%s,%s,%s,0,%s", h.end.Format("2006-01-02 15:04"), num(h.t, 1, ""), num(h.rh, 0, ""), num(h.u, 2, ""), num(sum, 1, ""), num(h.q, 0, ""))
		})(hs)
	}},
	{name: "dew-point-only.csv", of: "debilt", from: "2000-09-01T00:00:00Z", hours: 120, o: Options{Zone: time.UTC}, tol: exact, write: written(
		"Time,Temp C,Dew point C,Wind m/s,Rain mm,Solar W/m2\n", func(h hour) string {
			return fmt.Sprintf("%s,%s,%s,%s,%s,%s", h.end.Format("2006-01-02 15:04"), num(h.t, 1, ""), num(weather.DewPoint(weather.VapourPressure(h.t, h.rh)), 2, ""), num(h.u, 2, ""), num(h.r, 1, ""), num(h.q, 0, ""))
		})},
	{name: "wet-bulb.csv", of: "debilt", from: "2000-09-01T00:00:00Z", hours: 120, o: Options{Zone: time.UTC, Place: deBilt}, tol: [5]float64{0.05, 1, 0.05, 0.05, 0.5}, write: written(
		"Time,Dry bulb C,Wet bulb C,Wind m/s,Rain mm,Solar W/m2\n", func(h hour) string {
			return fmt.Sprintf("%s,%s,%s,%s,%s,%s", h.end.Format("2006-01-02 15:04"), num(h.t, 1, ""), num(wetOf(h.t, h.rh), 2, ""), num(h.u, 2, ""), num(h.r, 1, ""), num(h.q, 0, ""))
		})},
	{name: "tenths-trace.csv", of: "debilt", from: "2000-04-01T00:00:00Z", hours: 120, o: Options{Zone: time.UTC}, tol: exact, write: written(
		"Time,Temp (0.1 °C),RH (%),Wind (0.1 m/s),Rain (0.1 mm),Solar (W/m2)\n", func(h hour) string {
			rain := num(h.r*10, 0, "")
			if h.r == 0 && h.i%7 == 0 {
				rain = "-1"
			}
			return fmt.Sprintf("%s,%s,%s,%s,%s,%s", h.end.Format("200601021504"), num(h.t*10, 0, ""), num(h.rh, 0, ""), num(h.u*10, 0, ""), rain, num(h.q, 0, ""))
		})},
	{name: "french-trace.csv", of: "debilt", from: "2000-04-01T00:00:00Z", hours: 120, o: Options{Zone: time.UTC}, tol: exact, write: written(
		"Date;Heure;Température (°C);Humidité (%);Vent moyen (km/h);Rafale (km/h);Pluie (mm);Rayonnement global (W/m²)\n", func(h hour) string {
			rain := comma(h.r, 1)
			if h.r == 0 && h.i%7 == 0 {
				rain = "tr"
			}
			return fmt.Sprintf("%s;%s;%s;%s;%s;;%s;%s", h.end.Format("02/01/2006"), h.end.Format("15h04"), comma(h.t, 1), comma(h.rh, 0), comma(h.u*3.6, 1), rain, comma(h.q, 0))
		})},
	{name: "named-months.csv", of: "debilt", from: "2000-05-25T00:00:00Z", hours: 240, o: Options{Zone: time.UTC}, tol: exact, write: written(
		"Time,Temp C,RH %,Wind m/s,Rain mm,Solar W/m2\n", isoLine(",", "02-Jan-2006 15:04:05", ""))},
	{name: "three-hours.csv", of: "debilt", from: "2000-05-01T00:00:00Z", hours: 240, o: Options{Zone: time.UTC}, tol: [5]float64{0.05, 0.5, 0.05, 100, 1000}, write: threeHourly, want: threeHours},
	{name: "preamble-units-row.csv", of: "debilt", from: "2000-05-01T00:00:00Z", hours: 120, o: Options{Zone: time.UTC}, tol: exact, write: written(
		"Logger 12\nField: west, 1.5 m\nFirmware 2.1; serial 0000\n\nTime,Battery,Air Temperature,Relative Humidity,Wind Speed,Rain,Solar Radiation,Soil Temperature\n,V,°C,%,m/s,mm,W/m²,°C\n", func(h hour) string {
			return fmt.Sprintf("%s,3.6,%s,%s,%s,%s,%s,11.2", h.end.Format("2006-01-02 15:04:05"), num(h.t, 1, "NaN"), num(h.rh, 0, "NaN"), num(h.u, 2, "NaN"), num(h.r, 1, "NaN"), num(h.q, 0, "NaN"))
		})},
	{name: "two-stations.csv", of: "debilt", from: "2000-05-01T00:00:00Z", hours: 72, o: Options{Zone: time.UTC, Station: "west"}, tol: exact, write: written(
		"Station,Time,Temp C,RH %,Wind m/s,Rain mm,Solar W/m2\n", func(h hour) string {
			s := h.end.Format("2006-01-02 15:04")
			return fmt.Sprintf("west,%s,%s\neast,%s,%s,50,1,0,9", s, five(h, ","), s, num(h.t+5, 1, ""))
		})},
	{name: "newest-first.csv", of: "debilt", from: "2000-05-01T00:00:00Z", hours: 120, o: Options{Zone: time.UTC}, tol: exact, write: func(hs []hour) []byte {
		back := make([]hour, len(hs))
		for i, h := range hs {
			back[len(hs)-1-i] = h
		}
		return written("Time,Temp C,RH %,Wind m/s,Rain mm,Solar W/m2\n", isoLine(",", "2006-01-02 15:04", ""))(back)
	}},
	{name: "start-of-hour.csv", of: "debilt", from: "2000-05-01T00:00:00Z", hours: 120, o: Options{Zone: time.UTC, Stamp: "start"}, tol: exact, write: written(
		"Time,Temp C,RH %,Wind m/s,Rain mm,Solar W/m2\n", func(h hour) string {
			h.end = h.end.Add(-time.Hour)
			return isoLine(",", "2006-01-02 15:04", "")(h)
		})},
	{name: "ten-minutes.csv", of: "debilt", from: "2000-05-01T00:00:00Z", hours: 72, o: Options{Zone: time.UTC}, tol: exact, write: written(
		"Time,Temp C,RH %,Wind m/s,Rain mm,Solar W/m2\n", func(h hour) string {
			var out []string
			for k := range 6 {
				x := h
				x.end = h.end.Add(time.Duration(k-5) * 10 * time.Minute)
				// A swing within the hour that leaves its mean alone.
				x.t += float64(k)*0.2 - 0.5
				x.r = h.r / 6
				out = append(out, fmt.Sprintf("%s,%s,%s,%s,%s,%s", x.end.Format("2006-01-02 15:04"), num(x.t, 2, ""), num(x.rh, 0, ""), num(x.u, 2, ""), num(x.r, 4, ""), num(x.q, 0, "")))
			}
			return strings.Join(out, "\n")
		})},
	{name: "half-hour-zone.csv", of: "debilt", from: "2000-05-01T00:00:00Z", hours: 72, o: Options{Zone: time.FixedZone("India", 19800)}, tol: exact, write: written(
		"Date,Time,Temp (C),RH (%),Wind (m/s),Rain (mm),Solar (W/m2)\n", func(h hour) string {
			l := h.end.Add(5*time.Hour + 30*time.Minute)
			return fmt.Sprintf("%s,%s,%s", l.Format("2006-01-02"), l.Format("15:04"), five(h, ","))
		})},
	{name: "extremes-of-days.csv", of: "debilt", from: "2000-05-01T00:00:00Z", hours: 720, o: Options{Place: deBilt}, tol: [5]float64{-1, -1, -1, -1, -1}, write: dailyRows},
}

// five prints the five values.
func five(h hour, sep string) string {
	return strings.Join([]string{num(h.t, 1, ""), num(h.rh, 0, ""), num(h.u, 2, ""), num(h.r, 1, ""), num(h.q, 0, "")}, sep)
}

func isoLine(sep, format, end string) func(hour) string {
	return func(h hour) string { return h.end.Format(format) + sep + five(h, sep) + end }
}

// wetOf finds the wet bulb of a temperature and humidity by halving.
func wetOf(t, rh float64) float64 {
	lo, hi := t-30, t
	for range 60 {
		mid := (lo + hi) / 2
		if weather.WetBulb(t, mid, 2) < weather.VapourPressure(t, rh) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

func threeHourly(hs []hour) []byte {
	var sum float64
	return written("Time,Temp C,RH %,Wind m/s,Rain mm\n", func(h hour) string {
		sum += h.r
		if h.end.Hour()%3 != 0 {
			return ""
		}
		s := fmt.Sprintf("%s,%s,%s,%s,%s", h.end.Format("2006-01-02 15:04"), num(h.t, 1, ""), num(h.rh, 0, ""), num(h.u, 2, ""), num(sum, 1, ""))
		sum = 0
		return s
	})(hs)
}

// threeHours is what must come of the three-hourly file: readings in every
// third hour, rain spread evenly.
func threeHours(s *weather.Series) *weather.Series {
	out := weather.NewSeries(s.Start, s.Len())
	for i := range s.Len() {
		if s.Time(i+1).Hour()%3 == 0 {
			for _, v := range []weather.Var{weather.Temp, weather.RH, weather.Wind} {
				out.Set(v, i, float64(s.V[v][i]), s.F[v][i])
			}
		}
		k := i / 3 * 3
		out.Set(weather.Rain, i, float64(s.V[weather.Rain][k]+s.V[weather.Rain][k+1]+s.V[weather.Rain][k+2])/3, weather.Measured)
	}
	return out
}

func dailyRows(hs []hour) []byte {
	var b strings.Builder
	b.WriteString("Date,Tmin (°C),Tmax (°C),Rain (mm)\n")
	for i := 0; i+24 <= len(hs); i += 24 {
		lo, hi, rain := math.Inf(1), math.Inf(-1), 0.0
		for _, h := range hs[i : i+24] {
			lo, hi, rain = math.Min(lo, h.t), math.Max(hi, h.t), rain+h.r
		}
		fmt.Fprintf(&b, "%s,%s,%s,%s\n", hs[i].end.Add(-time.Hour).Format("2006-01-02"), num(lo, 1, ""), num(hi, 1, ""), num(rain, 1, ""))
	}
	return []byte(b.String())
}

// source returns a measured file as a series.
func source(t *testing.T, of string) *weather.Series {
	t.Helper()
	var s *weather.Series
	var err error
	switch of {
	case "debilt":
		_, s, _, err = KNMIHourly(open(t, "debilt-2000.txt.gz"))
	case "oakpark":
		_, s, _, err = Table(open(t, "oakpark-2017.csv.gz"), Options{WindHeight: 10})
	case "newark":
		_, s, _, err = Table(open(t, "newark-2013.csv.gz"), Options{WindHeight: 10})
	}
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Every layout gives back the stretch of the measured file it was made from.
func TestLayouts(t *testing.T) {
	if amsterdam == nil || newYork == nil {
		t.Skip("no zone data")
	}
	cache := make(map[string]*weather.Series)
	for _, l := range layouts {
		t.Run(l.name, func(t *testing.T) {
			s := cache[l.of]
			if s == nil {
				s = source(t, l.of)
				cache[l.of] = s
			}
			from, err := time.Parse(time.RFC3339, l.from)
			if err != nil {
				t.Fatal(err)
			}
			want := s.Slice(from, from.Add(time.Duration(l.hours)*time.Hour))
			path := filepath.Join("testdata", "layouts", l.name)
			if *update {
				if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, l.write(hoursOf(want)), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if l.want != nil {
				want = l.want(want)
			}
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			_, got, rep, err := Table(f, l.o)
			if err != nil {
				t.Fatal(err)
			}
			say(t, rep)
			compare(t, got, want, l.tol, l.edge)
			if rep.BadTotal > 0 && l.o.Station == "" {
				t.Errorf("%d bad rows", rep.BadTotal)
			}
		})
	}
}

func hoursOf(s *weather.Series) []hour {
	out := make([]hour, s.Len())
	for i := range out {
		at := func(v weather.Var) float64 { return float64(s.V[v][i]) }
		out[i] = hour{i, s.Time(i + 1), at(weather.Temp), at(weather.RH), at(weather.Wind), at(weather.Rain), at(weather.Rad)}
	}
	return out
}

// The days of the file of extremes come back with their lowest, highest and rain.
func TestDaysBecomeHours(t *testing.T) {
	_, got, rep, err := Table(open(t, "layouts/extremes-of-days.csv"), Options{Place: deBilt})
	if err != nil {
		t.Fatal(err)
	}
	say(t, rep)
	want := weather.DaysOf(source(t, "debilt").Slice(got.Start, got.End()), 5.18)
	days := weather.DaysOf(got, 5.18)
	if len(days) != 30 || len(want) != 30 {
		t.Fatalf("%d and %d days", len(days), len(want))
	}
	for i, d := range days {
		// The evening may already cool below, towards the dawn of the next day.
		next := want[min(i+1, 29)].Tmin
		if d.Tmin > want[i].Tmin+0.7 || d.Tmin < min(want[i].Tmin, next)-0.1 {
			t.Errorf("%v: lowest %.1f, want %.1f", d.Date, d.Tmin, want[i].Tmin)
		}
		near(t, "highest", d.Tmax, want[i].Tmax, 0.5)
		near(t, "rain", d.Rain, want[i].Rain, 0.06)
		if got.F[weather.Temp][24*i] != weather.Derived || got.F[weather.RH][24*i] != weather.Typical {
			t.Fatalf("flags %v %v", got.F[weather.Temp][24*i], got.F[weather.RH][24*i])
		}
	}
}

// A diary with hours of sunshine gets its light from them (FAO-56 eq. 35).
func TestDiaryWithSunshine(t *testing.T) {
	const file = "Date;Tiefsttemperatur (°C);Höchsttemperatur (°C);Niederschlag (mm);Sonnenschein (h)\n01.06.2000;8,1;21,4;0,0;12,5\n02.06.2000;9,0;19,2;3,4;0,0\n03.06.2000;9,0;18,0;1,0;4,0\n"
	_, s, rep, err := Table(strings.NewReader(file), Options{Place: deBilt})
	if err != nil {
		t.Fatal(err)
	}
	say(t, rep)
	days := weather.DaysOf(s, 5.18)
	if len(days) != 3 {
		t.Fatalf("%d days", len(days))
	}
	ra := sun.Extraterrestrial(days[0].Date, 52.1)
	near(t, "sunny day", days[0].Rad, (0.25+0.5*12.5/sun.PossibleSunshine(days[0].Date, 52.1))*ra, 0.2)
	near(t, "dull day", days[1].Rad, 0.25*ra, 0.2)
	if s.F[weather.Rad][12] != weather.Derived {
		t.Errorf("flag %v", s.F[weather.Rad][12])
	}
}

// What a file leaves open is asked for by name, and nothing else is.
func TestAmbiguousFilesAsk(t *testing.T) {
	for _, c := range []struct {
		file, option string
		o            Options
	}{
		{"Time,Temp C\n2000-01-01 00:00,1\n2000-01-01 01:00,2\n", "zone", Options{}},
		{"Time,Temp C\n01/02/2000 00:00,1\n01/02/2000 01:00,2\n", "date-order", Options{Zone: time.UTC}},
		{"Time UTC,Temp\n2000-01-01 00:00,35\n2000-01-01 01:00,36\n", "unit temperature", Options{}},
		{"Time UTC,Temp A C,Temp B C\n2000-01-01 00:00,35,1\n2000-01-01 01:00,36,2\n", "column temperature", Options{}},
		{"Station,Time UTC,Temp C\na,2000-01-01 00:00,35\nb,2000-01-01 00:00,36\na,2000-01-01 01:00,36\n", "station", Options{}},
		{"doy,hour,Temp C\n1,0,35\n1,1,36\n", "year", Options{Zone: time.UTC}},
		{"Date,Tmin C,Tmax C\n2000-01-01,1,5\n2000-01-02,1,6\n", "place", Options{}},
	} {
		_, _, _, err := Table(strings.NewReader(c.file), c.o)
		var a *Ambiguous
		if !errors.As(err, &a) || a.Option != c.option {
			t.Errorf("%q: error %v, want a question for %s", c.file, err, c.option)
		}
	}
	// The answers settle it.
	for _, c := range []struct {
		file string
		o    Options
		want float64
	}{
		{"Time,Temp C\n01/02/2000 00:00,1\n01/02/2000 01:00,2\n", Options{Zone: time.UTC, DateOrder: "month"}, 1},
		{"Time UTC,Temp\n2000-01-01 00:00,50\n2000-01-01 01:00,50\n", Options{Units: map[string]string{"temperature": "F"}}, 10},
		{"Time UTC,Temp A C,Temp B C\n2000-01-01 00:00,35,1\n2000-01-01 01:00,36,2\n", Options{Columns: map[string]string{"temperature": "Temp B C"}}, 1},
		{"2000-01-01 00:00,35,1\n2000-01-01 01:00,36,2\n", Options{Zone: time.UTC, Names: []string{"t", "Temp C"}}, 35},
	} {
		_, s, _, err := Table(strings.NewReader(c.file), c.o)
		if err != nil {
			t.Errorf("%q: %v", c.file, err)
			continue
		}
		near(t, "answer", float64(s.V[weather.Temp][0]), c.want, 1e-5)
	}
}
