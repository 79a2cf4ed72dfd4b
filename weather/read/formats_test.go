package read

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"oidium/weather"
)

// The files of this test are constructed from the descriptions of the formats;
// none of these readers was tried on a real file or a live answer.

func epwFile() string {
	var b strings.Builder
	b.WriteString("LOCATION,Nowhere,-,NOW,made,000000,52.10,5.18,1.0,2.0\n")
	for i := range 7 {
		fmt.Fprintf(&b, "HEAD %d\n", i)
	}
	years := [12]int{1999, 2003, 2001, 1998, 2005, 2004, 2002, 2000, 1997, 2006, 2001, 2003}
	start := time.Date(2001, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range 8760 {
		t := start.Add(time.Duration(i) * time.Hour)
		f := make([]string, 35)
		for k := range f {
			f[k] = "0"
		}
		f[0], f[1], f[2], f[3], f[4] = fmt.Sprint(years[t.Month()-1]), fmt.Sprint(int(t.Month())), fmt.Sprint(t.Day()), fmt.Sprint(t.Hour()+1), "60"
		f[6], f[7], f[8], f[13], f[21], f[33] = fmt.Sprintf("%.1f", 10+8*math.Sin(2*math.Pi*float64(t.Hour()-9)/24)), "5.0", "80", fmt.Sprint(max(0, 200-abs(t.Hour()-11)*40)), "4.0", "0.5"
		if i == 100 {
			f[6], f[33] = "99.9", "999"
		}
		b.WriteString(strings.Join(f, ",") + "\n")
	}
	return b.String()
}

func abs(x int) int { return max(x, -x) }

func TestEPW(t *testing.T) {
	st, s, rep, err := EPW(strings.NewReader(epwFile()), 2024)
	if err != nil {
		t.Fatal(err)
	}
	// Hour 1 of 1 January on a clock an hour ahead; 29 February is not there.
	if !s.Start.Equal(time.Date(2023, 12, 31, 23, 0, 0, 0, time.UTC)) || s.Len() != 8784 || rep.Used != 8760 || rep.BadTotal != 0 {
		t.Errorf("%d hours from %v, %d used, %v", s.Len(), s.Start, rep.Used, rep.Bad)
	}
	if st.Name != "Nowhere" || st.Latitude != 52.1 || st.Altitude != 2 {
		t.Errorf("%+v", st)
	}
	if n := s.Count(weather.Temp); n[weather.Missing] != 25 || n[weather.Typical] != 8759 {
		t.Errorf("flags %v", n)
	}
	near(t, "wind", float64(s.V[weather.Wind][0]), 4*0.748, 0.001)
	near(t, "rain", float64(s.V[weather.Rain][0]), 0.5, 1e-6)
	for _, bad := range []string{"", "LOCATION,a\n", "LOCATION,a,b,c,d,e,95,5,1,2\n", strings.Repeat("LOCATION,a,b,c,d,e,52,5,1,2\n", 9)} {
		if _, s, _, err := EPW(strings.NewReader(bad), 2024); err == nil || s != nil {
			t.Errorf("%.30q was read", bad)
		}
	}
}

const ghcnhFile = `STATION|Station_name|Year|Month|Day|Hour|Minute|LATITUDE|LONGITUDE|Elevation|temperature|temperature_Quality_Code|dew_point_temperature|dew_point_temperature_Quality_Code|relative_humidity|wind_speed|precipitation|precipitation_Quality_Code
X1|NOWHERE|2001|6|1|0|0|40.1|-88.4|219|20.0|1|10.0|1||3.0|0.0|1
X1|NOWHERE|2001|6|1|0|25|40.1|-88.4|219|19.0|1|10.0|1||3.0|0.2|1
X1|NOWHERE|2001|6|1|0|51|40.1|-88.4|219|18.0|1|10.0|1||5.0|0.5|1
X1|NOWHERE|2001|6|1|1|51|40.1|-88.4|219|17.0|3|10.0|1|77|3.0||
X1|NOWHERE|2001|6|1|2|51|40.1|-88.4|219|-999.9||||||| 
X1|NOWHERE|2001|6|31|3|51|40.1|-88.4|219|17.0|1|10.0|1|77|3.0||
`

func TestGHCNh(t *testing.T) {
	st, s, rep, err := GHCNh(strings.NewReader(ghcnhFile))
	if err != nil {
		t.Fatal(err)
	}
	if st.Name != "NOWHERE" || st.Latitude != 40.1 || st.Altitude != 219 {
		t.Errorf("%+v", st)
	}
	// The report at midnight belongs to the hour before.
	if !s.Start.Equal(time.Date(2001, 5, 31, 23, 0, 0, 0, time.UTC)) || s.Len() != 3 {
		t.Fatalf("%d hours from %v", s.Len(), s.Start)
	}
	near(t, "mean of reports", float64(s.V[weather.Temp][1]), 18.5, 1e-5)
	near(t, "rain", float64(s.V[weather.Rain][1]), 0.5, 1e-6)
	near(t, "humidity", float64(s.V[weather.RH][0]), weather.RHFrom(20, weather.SaturationVP(10)), 1e-4)
	if s.F[weather.RH][0] != weather.Derived || s.F[weather.RH][2] != weather.Measured || s.F[weather.Temp][2] != weather.Missing {
		t.Errorf("flags %v %v", s.F[weather.RH], s.F[weather.Temp])
	}
	if rep.Rows != 6 || rep.Used != 4 || rep.BadTotal != 2 {
		t.Errorf("%+v", rep)
	}
}

// metAnswer is an answer as the description of Locationforecast gives it: two
// hourly steps, then six-hourly ones.
const metAnswer = `{"type":"Feature","geometry":{"type":"Point","coordinates":[5.18,52.1,2]},"properties":{"meta":{"updated_at":"2001-06-01T03:42:10Z","units":{"air_temperature":"celsius"}},"timeseries":[
{"time":"2001-06-01T04:00:00Z","data":{"instant":{"details":{"air_temperature":10.0,"relative_humidity":90.0,"wind_speed":4.0,"cloud_area_fraction":100.0}},"next_1_hours":{"summary":{"symbol_code":"rain"},"details":{"precipitation_amount":0.6}},"next_6_hours":{"details":{"precipitation_amount":3.0}}}},
{"time":"2001-06-01T05:00:00Z","data":{"instant":{"details":{"air_temperature":12.0,"relative_humidity":80.0,"wind_speed":2.0,"cloud_area_fraction":0.0}},"next_1_hours":{"details":{"precipitation_amount":0.0}}}},
{"time":"2001-06-01T06:00:00Z","data":{"instant":{"details":{"air_temperature":13.0,"relative_humidity":75.0,"wind_speed":2.0,"cloud_area_fraction":0.0}},"next_6_hours":{"details":{"precipitation_amount":1.2}}}},
{"time":"2001-06-01T12:00:00Z","data":{"instant":{"details":{"air_temperature":19.0,"relative_humidity":45.0,"wind_speed":5.0,"cloud_area_fraction":50.0}}}}
]}}`

func TestLocationforecast(t *testing.T) {
	o, err := Locationforecast(strings.NewReader(metAnswer))
	if err != nil {
		t.Fatal(err)
	}
	s := o.Series
	if !o.Issued.Equal(time.Date(2001, 6, 1, 3, 42, 10, 0, time.UTC)) || !s.Start.Equal(time.Date(2001, 6, 1, 4, 0, 0, 0, time.UTC)) || s.Len() != 8 {
		t.Fatalf("issued %v, %d hours from %v", o.Issued, s.Len(), s.Start)
	}
	near(t, "first hour", float64(s.V[weather.Temp][0]), 11, 1e-5)
	near(t, "between six hours", float64(s.V[weather.Temp][2]), 13.5, 1e-5)
	near(t, "wind", float64(s.V[weather.Wind][0]), 3*0.748, 0.001)
	near(t, "rain of an hour", float64(s.V[weather.Rain][0]), 0.6, 1e-6)
	near(t, "rain of six hours", float64(s.V[weather.Rain][4]), 0.2, 1e-6)
	if s.V[weather.Rad][7] < 300 || s.V[weather.Rad][0] > 120 || s.F[weather.Rad][7] != weather.Forecast {
		t.Errorf("radiation %v", s.V[weather.Rad])
	}
	if !strings.Contains(o.Licence, "MET Norway") {
		t.Errorf("attribution %q", o.Licence)
	}
}

// gridAnswer is an answer as the description of the grid service gives it.
const gridAnswer = `{"geometry":{"type":"Polygon","coordinates":[[[-88.40,40.00],[-88.40,40.02],[-88.36,40.02],[-88.36,40.00],[-88.40,40.00]]]},"properties":{"updateTime":"2001-06-01T03:42:10+00:00",
"temperature":{"uom":"wmoUnit:degC","values":[{"validTime":"2001-06-01T06:00:00+00:00/PT1H","value":15},{"validTime":"2001-06-01T07:00:00+00:00/PT2H","value":17},{"validTime":"2001-06-01T09:00:00+00:00/P1DT1H","value":20}]},
"dewpoint":{"uom":"wmoUnit:degC","values":[{"validTime":"2001-06-01T06:00:00+00:00/P2D","value":10}]},
"windSpeed":{"uom":"wmoUnit:km_h-1","values":[{"validTime":"2001-06-01T06:00:00+00:00/P2D","value":18}]},
"skyCover":{"uom":"wmoUnit:percent","values":[{"validTime":"2001-06-01T06:00:00+00:00/P2D","value":25}]},
"quantitativePrecipitation":{"uom":"wmoUnit:mm","values":[{"validTime":"2001-06-01T06:00:00+00:00/PT6H","value":3}]}}}`

func TestGridpoint(t *testing.T) {
	o, err := Gridpoint(strings.NewReader(gridAnswer))
	if err != nil {
		t.Fatal(err)
	}
	s := o.Series
	if s.Len() != 28 || !s.Start.Equal(time.Date(2001, 6, 1, 6, 0, 0, 0, time.UTC)) {
		t.Fatalf("%d hours from %v", s.Len(), s.Start)
	}
	near(t, "temperature", float64(s.V[weather.Temp][2]), 17, 1e-6)
	near(t, "humidity", float64(s.V[weather.RH][0]), weather.RHFrom(15, weather.SaturationVP(10)), 1e-4)
	near(t, "wind", float64(s.V[weather.Wind][0]), 5*0.748, 0.001)
	near(t, "rain", float64(s.V[weather.Rain][5]), 0.5, 1e-6)
	if s.F[weather.Rain][6] != weather.Missing {
		t.Error("rain beyond its time")
	}
	// Noon at 88° W is near 18 h universal time.
	if s.V[weather.Rad][12] < 500 || s.V[weather.Rad][0] != 0 {
		t.Errorf("radiation %v", s.V[weather.Rad])
	}
}

func TestAnswersThatAreNone(t *testing.T) {
	for _, bad := range []string{
		"", "{}", "<html>", `{"properties":{}}`, "[]",
		strings.Replace(metAnswer, "2001-06-01T12", "2031-06-01T12", 1),
		strings.NewReplacer("2001-06-01T05", "2001-06-02T05", "2001-06-01T06", "2001-06-03T06", "2001-06-01T12", "2001-06-04T12").Replace(metAnswer),
		strings.Replace(gridAnswer, "P1DT1H", "P900D", 1),
		strings.Replace(gridAnswer, "PT2H", "two hours", 1),
		strings.Replace(gridAnswer, "wmoUnit:degC", "wmoUnit:furlong", 1),
		strings.Replace(gridAnswer, "[[[-88", "[[[-888", 1),
	} {
		_, err1 := Locationforecast(strings.NewReader(bad))
		_, err2 := Gridpoint(strings.NewReader(bad))
		if err1 == nil || err2 == nil { // each is no answer of the other one either
			t.Errorf("%.40q was read", bad)
		}
	}
}

func FuzzOthers(f *testing.F) {
	f.Add([]byte(ghcnhFile))
	f.Add([]byte(epwFile()[:1500]))
	f.Add([]byte(metAnswer))
	f.Add([]byte(gridAnswer))
	f.Fuzz(func(t *testing.T, b []byte) {
		_, s, rep, err := GHCNh(bytes.NewReader(b))
		checkRead(t, s, rep, err)
		_, s, rep, err = EPW(bytes.NewReader(b), 2001)
		checkRead(t, s, rep, err)
		for _, parse := range []func() (weather.Outlook, error){
			func() (weather.Outlook, error) { return Locationforecast(bytes.NewReader(b)) },
			func() (weather.Outlook, error) { return Gridpoint(bytes.NewReader(b)) },
		} {
			if o, err := parse(); err == nil && (o.Series.Len() == 0 || o.Series.Len() > 41*24) {
				t.Fatalf("%d hours", o.Series.Len())
			}
		}
	})
}
