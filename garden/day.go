package garden

import (
	"fmt"
	"time"
)

// Day is a calendar date in the garden's own zone, counted in days from
// 1970-01-01. The zero value is that date and is used as "not given".
type Day int32

// DayOf returns the date of t in t's own zone.
func DayOf(t time.Time) Day {
	y, m, d := t.Date()
	return Day(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// ParseDay reads a date written as 2006-01-02.
func ParseDay(s string) (Day, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return 0, fmt.Errorf("date %q is not a date such as 2000-06-14", s)
	}
	return DayOf(t), nil
}

func (d Day) utc() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// String returns the date as 2006-01-02.
func (d Day) String() string { return d.utc().Format(time.DateOnly) }

// At returns the instant at the given hour of the date in the zone loc.
func (d Day) At(hour int, loc *time.Location) time.Time {
	y, m, dd := d.utc().Date()
	return time.Date(y, m, dd, hour, 0, 0, 0, loc)
}

// YearDay returns the day of the year, 1 to 366.
func (d Day) YearDay() int { return d.utc().YearDay() }

// Year returns the year of the date.
func (d Day) Year() int { return d.utc().Year() }

// Weekday returns the day of the week.
func (d Day) Weekday() time.Weekday { return d.utc().Weekday() }

// MarshalText writes the date as 2006-01-02, the empty text for the zero value.
func (d Day) MarshalText() ([]byte, error) {
	if d == 0 {
		return nil, nil
	}
	return []byte(d.String()), nil
}

// UnmarshalText reads what MarshalText writes.
func (d *Day) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = 0
		return nil
	}
	v, err := ParseDay(string(b))
	*d = v
	return err
}
