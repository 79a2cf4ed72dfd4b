package scout

import "fmt"

// The scale of Horsfall & Barratt (1945): twelve grades, 1 for none to 12 for
// all. cutsHB are the upper ends of grades 2 to 10 in percent.
var cutsHB = [...]float64{3, 6, 12, 25, 50, 75, 87, 94, 97}

// gradeHB returns the grade of a percentage.
func gradeHB(percent float64) (int, error) {
	switch {
	case !(percent >= 0 && percent <= 100):
		return 0, fmt.Errorf("converting %v %% to a grade of 1 to 12: a share of leaf lies between 0 and 100 %%", percent)
	case percent == 0:
		return 1, nil
	case percent == 100:
		return 12, nil
	}
	for i, c := range cutsHB {
		if percent < c { // a reading on a cut belongs to the grade above it
			return i + 2, nil
		}
	}
	return 11, nil
}

// percentHB returns the middle of a grade in percent.
func percentHB(grade int) (float64, error) {
	switch {
	case grade == 1:
		return 0, nil
	case grade == 12:
		return 100, nil
	case grade < 1 || grade > 12:
		return 0, fmt.Errorf("converting grade %d to percent: grades run from 1 (none) to 12 (all)", grade)
	}
	lo, hi := 0.0, 100.0
	if grade > 2 {
		lo = cutsHB[grade-3]
	}
	if grade < 11 {
		hi = cutsHB[grade-2]
	}
	return (lo + hi) / 2, nil
}
