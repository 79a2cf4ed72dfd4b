package scout

import (
	"bytes"
	_ "embed" // the table of scales
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"sync"

	"oidium/cite"
)

// Reading is a severity as entered and what it stands for.
type Reading struct {
	Scale      string  // as entered: "percent" or the id of a scale
	Value      float64 // as entered
	Share      float64 // 0 to 1: the percentage, or the middle of the grade
	Low, High  float64 // bounds of the grade, 0 to 1; both 0 for a percentage
	Source     string  // of the scale's cuts, id in the register; "" for a percentage
	Confidence cite.Grade
}

// grade is one step of a scale, in percent.
type grade struct {
	value, from, to, middle float64
	source                  string
	confidence              cite.Grade
}

//go:embed data/scales.csv
var scalesCSV []byte

// scales reads the table once. A damaged table gives no scales, which a reading
// on one then says; a test holds it whole.
var scales = sync.OnceValue(func() map[string][]grade {
	m, err := readScales(bytes.NewReader(scalesCSV))
	if err != nil {
		return nil
	}
	return m
})

// readScales reads rows of scale, grade, from, to, middle, source, confidence;
// percent, grades of a scale in rising order.
func readScales(r io.Reader) (map[string][]grade, error) {
	rows, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("reading the table of scales: %w", err)
	}
	m := make(map[string][]grade)
	for i, row := range rows {
		if i == 0 {
			continue
		}
		var x [4]float64
		for j := range x {
			if x[j], err = strconv.ParseFloat(row[j+1], 64); err != nil {
				return nil, fmt.Errorf("reading the table of scales, line %d: %w", i+1, err)
			}
		}
		m[row[0]] = append(m[row[0]], grade{x[0], x[1], x[2], x[3], row[5], cite.Grade(row[6])})
	}
	return m, nil
}

// ReadOn converts a severity entered on a scale: "percent" (also "") or
// "horsfall-barratt", "horsfall-barratt-elanco", "cucumber-0-9". What was entered
// is kept beside what it stands for, so that another conversion can be made
// later. Percentages are the better scale: grades gain nothing and lose power
// (Bock et al. 2013, Chiang et al. 2016).
func ReadOn(scale string, value float64) (Reading, error) {
	if scale == "" || scale == "percent" {
		if !(value >= 0 && value <= 100) {
			return Reading{}, fmt.Errorf("reading a severity of %v %%: a share of leaf lies between 0 and 100 %%", value)
		}
		return Reading{Scale: "percent", Value: value, Share: value / 100}, nil
	}
	grades, ok := scales()[scale]
	if !ok {
		return Reading{}, fmt.Errorf("reading a severity on scale %q: no such scale; use percent, %s", scale, strings.Join(scaleNames, ", "))
	}
	for _, g := range grades {
		if g.value == value {
			return Reading{
				Scale: scale, Value: value, Share: g.middle / 100, Low: g.from / 100, High: g.to / 100,
				Source: g.source, Confidence: g.confidence,
			}, nil
		}
	}
	return Reading{}, fmt.Errorf("reading grade %v on scale %q: its grades run from %v to %v in whole steps", value, scale, grades[0].value, grades[len(grades)-1].value)
}

var scaleNames = []string{"horsfall-barratt", "horsfall-barratt-elanco", "cucumber-0-9"}

// GradeOn gives the grade that a percentage has on a scale. A percentage on a cut
// belongs to the grade above it.
func GradeOn(scale string, percent float64) (float64, error) {
	grades, ok := scales()[scale]
	if !ok {
		return 0, fmt.Errorf("grading %v %% on scale %q: no such scale; use %s", percent, scale, strings.Join(scaleNames, ", "))
	}
	if !(percent >= 0 && percent <= 100) {
		return 0, fmt.Errorf("grading %v %% on scale %q: a share of leaf lies between 0 and 100 %%", percent, scale)
	}
	if percent == 0 {
		return grades[0].value, nil
	}
	for i := len(grades) - 1; i > 0; i-- {
		// The lowest grade above none begins just above 0.
		if percent >= grades[i].from {
			return grades[i].value, nil
		}
	}
	return grades[0].value, nil
}

// DiseaseIndex is the severity index of Townsend & Heuberger (1943) as a share:
// the sum of class x count over the count times the top class, classes counted
// from 0. NaN when nothing was counted.
func DiseaseIndex(counts []int) float64 {
	sum, all := 0, 0
	for class, n := range counts {
		sum, all = sum+class*n, all+n
	}
	if all == 0 || len(counts) < 2 {
		return math.NaN()
	}
	return float64(sum) / float64(all*(len(counts)-1))
}
