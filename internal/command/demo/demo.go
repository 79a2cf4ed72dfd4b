package demo

import (
	"bytes"
	"compress/gzip"
	_ "embed" // the data
	"fmt"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/internal/work"
	"oidium/weather/read"
)

//go:embed garden.jsonl
var lines []byte

//go:embed debilt-2000.txt.gz
var hours []byte

// Day is the morning the demo prints when no other is asked for.
func Day() garden.Day {
	d, _ := garden.ParseDay("2000-07-20")
	return d
}

// Entries returns the whole ledger of the example: the garden's lines and one
// entry for each day of measured weather. What is later than the morning asked
// for is left out by the fold, as with any ledger.
func Entries() ([]ledger.Entry, error) {
	entries, problems, err := ledger.Read(bytes.NewReader(lines), work.Vocabulary())
	if err != nil {
		return nil, fmt.Errorf("the example garden: %w", err)
	}
	if len(problems) > 0 {
		return nil, fmt.Errorf("the example garden: %w", ledger.Problems(problems))
	}
	z, err := gzip.NewReader(bytes.NewReader(hours))
	if err != nil {
		return nil, fmt.Errorf("the example's weather: %w", err)
	}
	st, series, _, err := read.KNMIHourly(z)
	if err != nil {
		return nil, fmt.Errorf("the example's weather: %w", err)
	}
	days, err := work.WeatherEntries(st, "", series)
	if err != nil {
		return nil, fmt.Errorf("the example's weather: %w", err)
	}
	return append(entries, days...), nil
}
