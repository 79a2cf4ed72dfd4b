package read

import (
	"fmt"

	"oidium/garden"
	"oidium/weather"
)

// Report says what was made of a file.
type Report struct {
	Rows     int              `json:"rows"`          // data rows met
	Used     int              `json:"used"`          // rows of which at least one value was used
	Bad      []BadRow         `json:"bad,omitempty"` // the first rows that were not used, or not wholly
	BadTotal int              `json:"badTotal"`      // how many such rows there were
	Found    []string         `json:"found"`         // how the file was understood, one sentence each
	Warnings []garden.Warning `json:"warnings,omitempty"`
	Quality  weather.Quality  `json:"quality"`
}

// BadRow is a row, or a value in it, that could not be used.
type BadRow struct {
	Line   int    `json:"line"` // counted from 1
	Reason string `json:"reason"`
}

// badListed is how many bad rows a report names; the rest are only counted.
const badListed = 200

func (r *Report) bad(line int, format string, args ...any) {
	r.BadTotal++
	if len(r.Bad) < badListed {
		r.Bad = append(r.Bad, BadRow{line, fmt.Sprintf(format, args...)})
	}
}

func (r *Report) found(format string, args ...any) {
	r.Found = append(r.Found, fmt.Sprintf(format, args...))
}

// check runs quality control over what was read and keeps its report.
func (r *Report) check(s *weather.Series, lat, lon float64) *weather.Series {
	s, r.Quality = weather.Check(s, nil, lat, lon)
	r.Warnings = append(r.Warnings, r.Quality.Warnings()...)
	return s
}
