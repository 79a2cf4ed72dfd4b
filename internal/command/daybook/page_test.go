package daybook

import (
	"strings"
	"testing"
	"time"

	"oidium/internal/ledger"
)

// An invented garden in an invented year; Thursday 6 July 2000, 08:30 there.
const someGarden = `{"id":"00dc6c2a-1000-7000-8000-000000000001","kind":"site","v":1,"time":"2000-04-01T08:00:00+02:00","written":"2000-04-01T08:00:00+02:00","who":"grower","body":{"invented":true,"latitude":52.1,"longitude":5.18,"name":"Plain Garden","zone":"Europe/Amsterdam"}}
{"id":"00dc6c2a-1000-7000-8000-000000000002","kind":"bed","v":1,"time":"2000-04-01T08:00:00+02:00","written":"2000-04-01T08:00:00+02:00","who":"grower","bed":"tunnel","body":{"length_m":10,"name":"Cucumber tunnel","order":1,"shelter":"tunnel","width_m":1.2}}
{"id":"00dc6c2a-1000-7000-8000-000000000003","kind":"bed","v":1,"time":"2000-04-01T08:00:00+02:00","written":"2000-04-01T08:00:00+02:00","who":"grower","bed":"rose","body":{"length_m":8,"name":"Rose border","order":2,"width_m":1}}
{"id":"00dc6c2a-1000-7000-8000-000000000004","kind":"planting","v":1,"time":"2000-05-20T08:00:00+02:00","written":"2000-05-20T08:00:00+02:00","who":"grower","bed":"tunnel","body":{"crop":"cucumber","planted":"2000-05-20","planting":"cu1","plants":20}}
{"id":"00dc6c2a-1000-7000-8000-000000000005","kind":"tally","v":1,"time":"2000-06-20T08:00:00+02:00","written":"2000-06-20T08:05:00+02:00","who":"grower","bed":"tunnel","body":{"check":"lens","counts":[{"age":"old","face":"upper","infected":0,"inspected":4,"plant":1},{"age":"old","face":"lower","infected":1,"inspected":4,"plant":1},{"age":"old","face":"upper","infected":0,"inspected":4,"plant":2},{"age":"old","face":"lower","infected":0,"inspected":4,"plant":2}],"sure":"likely"}}
{"id":"00dc6c2a-1000-7000-8000-000000000006","kind":"treatment","v":1,"time":"2000-06-21T20:00:00+02:00","written":"2000-06-21T20:30:00+02:00","who":"grower","bed":"rose","body":{"below":true,"end":"2000-06-21T20:20:00+02:00","grams":8,"litres":2,"material":"sulfur_wg"}}
`

func readAll(t testing.TB, text string) []ledger.Entry {
	t.Helper()
	entries, problems, err := ledger.Read(strings.NewReader(text), ledger.Vocabulary{})
	if err != nil || len(problems) > 0 {
		t.Fatal(problems, err)
	}
	return entries
}

func pageOf(t testing.TB, text string) *Page {
	t.Helper()
	loc, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	p, err := Open(readAll(t, text), time.Date(2000, 7, 6, 8, 30, 0, 0, loc))
	if err != nil {
		t.Fatal(err)
	}
	return p
}
