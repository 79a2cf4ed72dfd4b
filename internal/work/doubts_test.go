package work

import (
	"slices"
	"testing"
	"time"

	"oidium/internal/ledger"
)

// What speaks against an entry is said when it is kept, and nothing is said of one
// that has nothing against it.
func TestDoubts(t *testing.T) {
	lines := []string{
		`{"id":"00dc6c2a-1000-7000-8000-000000000101","kind":"site","v":1,"time":"2000-04-01T08:00:00Z","written":"2000-04-01T08:00:00Z","body":{"name":"x","latitude":52,"longitude":5,"zone":"UTC"}}`,
		`{"id":"00dc6c2a-1000-7000-8000-000000000102","kind":"bed","v":1,"time":"2000-04-01T08:00:00Z","written":"2000-04-01T08:00:00Z","bed":"t","body":{"length_m":5,"width_m":2,"shelter":"tunnel"}}`,
		`{"id":"00dc6c2a-1000-7000-8000-000000000103","kind":"planting","v":1,"time":"2000-05-01T08:00:00Z","written":"2000-05-01T08:00:00Z","bed":"t","body":{"planting":"p","crop":"cucumber","planted":"2000-05-01"}}`,
		`{"id":"00dc6c2a-1000-7000-8000-000000000104","kind":"label","v":1,"time":"2000-05-01T08:00:00Z","written":"2000-05-01T08:00:00Z","body":{"material":"sulfur_wg","rate_low_g_per_l":2,"rate_high_g_per_l":3,"harvest_days":2,"reentry_hours":24,"interval_days":7}}`,
		`{"id":"00dc6c2a-1000-7000-8000-000000000105","kind":"treatment","v":1,"time":"2000-07-06T20:00:00Z","written":"2000-07-06T20:30:00Z","bed":"t","body":{"material":"sulfur_wg","end":"2000-07-06T20:30:00Z","litres":4,"grams":12}}`,
	}
	var book []ledger.Entry
	for _, l := range lines {
		e, err := ledger.ParseLine([]byte(l), ledger.Vocabulary{})
		if err != nil {
			t.Fatal(err)
		}
		book = append(book, e)
	}
	now := time.Date(2000, 7, 20, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		line string
		want []string
	}{
		{`"kind":"treatment","time":"2000-07-08T20:00:00Z","body":{"material":"sulfur_wg","litres":4,"grams":800}`, []string{"above-label", "within-interval"}},
		{`"kind":"treatment","time":"2000-07-13T20:00:00Z","body":{"material":"sulfur_wg","litres":4,"grams":12}`, nil},
		{`"kind":"treatment","time":"2000-07-13T20:00:00Z","body":{"material":"sulfur_wg"}`, nil}, // nothing to tell by
		{`"kind":"harvest","time":"2000-07-07T08:00:00Z","body":{"kg":3}`, []string{"before-re-entry", "before-harvest"}},
		{`"kind":"harvest","time":"2000-07-10T08:00:00Z","body":{"kg":3}`, nil},
		{`"kind":"removal","time":"2000-07-07T08:00:00Z","body":{"share":0.1,"ages":["old"]}`, []string{"before-re-entry"}},
	} {
		line := `{"id":"00dc6c2a-1000-7000-8000-000000000199","v":1,"written":"2000-07-19T00:00:00Z","bed":"t",` + c.line + `}`
		e, err := ledger.ParseLine([]byte(line), ledger.Vocabulary{})
		if err != nil {
			t.Fatal(err)
		}
		kept, err := Keeping(book, now, e)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, w := range kept.Warnings {
			got = append(got, w.Code)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.line, kept.Warnings, c.want)
		}
	}
}
