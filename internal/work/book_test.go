package work

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"oidium/garden"
	"oidium/internal/ledger"
)

func linesOf(t *testing.T, text string) []ledger.Entry {
	t.Helper()
	entries, problems, err := ledger.Read(strings.NewReader(text), Vocabulary())
	if err != nil || len(problems) > 0 {
		t.Fatal(problems, err)
	}
	return entries
}

const bookGarden = `{"id":"00dc6c2a-1000-7000-8000-000000000001","kind":"site","v":1,"time":"2000-04-01T08:00:00+02:00","written":"2000-04-01T08:00:00+02:00","body":{"name":"Plain Garden","zone":"Europe/Amsterdam"}}
{"id":"00dc6c2a-1000-7000-8000-000000000002","kind":"bed","v":1,"time":"2000-04-01T08:00:00+02:00","written":"2000-04-01T08:00:00+02:00","bed":"one","body":{"length_m":10,"width_m":1.2}}
{"id":"00dc6c2a-1000-7000-8000-000000000003","kind":"bed","v":1,"time":"2000-04-01T08:00:00+02:00","written":"2000-04-01T08:00:00+02:00","bed":"rose","body":{"length_m":10,"width_m":1.2}}
{"id":"00dc6c2a-1000-7000-8000-000000000004","kind":"planting","v":1,"time":"2000-05-20T08:00:00+02:00","written":"2000-05-20T08:00:00+02:00","bed":"one","body":{"crop":"cucumber","planted":"2000-05-20","planting":"cu1"}}
{"id":"00dc6c2a-1000-7000-8000-000000000005","kind":"planting","v":1,"time":"2000-05-20T08:00:00+02:00","written":"2000-05-20T08:00:00+02:00","bed":"rose","body":{"crop":"rose","planted":"1997-11-10","planting":"r1"}}
`

const labelLine = `{"id":"00dc6c2a-1000-7000-8000-000000000006","kind":"label","v":1,"time":"2000-06-01T08:00:00+02:00","written":"2000-06-01T08:00:00+02:00","body":{"material":"sulfur_wg","harvest_days":3,"reentry_hours":24,"registration":"EXAMPLE-1"}}
`

func treated(bed, body string) string {
	return `{"id":"00dc6c2a-1000-7000-8000-000000000007","kind":"treatment","v":1,"time":"2000-10-27T20:00:00+02:00","written":"2000-10-27T21:00:00+02:00","bed":"` + bed + `","body":` + body + `}
`
}

// Worked by hand. The clocks of Amsterdam went back on Sunday 29 October 2000 (IANA
// time zone database): three days after Friday 20:30 summer time are Monday 19:30
// by the hours and 20:30 by the clock, and the later of the two holds.
func TestFreed(t *testing.T) {
	for _, x := range []struct {
		name, label, bed, body string
		want                   Freed
	}{
		{
			"over the change of the clocks", labelLine, "one", `{"material":"sulfur_wg","end":"2000-10-27T20:30:00+02:00"}`,
			Freed{Enter: "2000-10-28T20:30:00+02:00", Pick: "2000-10-30T20:30:00+01:00", Counted: "2000-10-27T20:30:00+02:00"},
		},
		{
			"no end: the last minute of the day", labelLine, "one", `{"material":"sulfur_wg"}`,
			Freed{Enter: "2000-10-28T23:59:00+02:00", Pick: "2000-10-30T23:59:00+01:00", Counted: "2000-10-27T23:59:00+02:00"},
		},
		{
			"no label: unknown, never guessed", "", "one", `{"material":"sulfur_wg","end":"2000-10-27T20:30:00+02:00"}`,
			Freed{Enter: "unknown", Pick: "unknown", Counted: "2000-10-27T20:30:00+02:00"},
		},
		{
			"nothing of a rose is eaten", "", "rose", `{"material":"sulfur_wg","end":"2000-10-27T20:30:00+02:00"}`,
			Freed{Enter: "unknown", Counted: "2000-10-27T20:30:00+02:00"},
		},
		{
			"a label of another material", labelLine, "one", `{"material":"khco3","end":"2000-10-27T20:30:00+02:00"}`,
			Freed{Enter: "unknown", Pick: "unknown", Counted: "2000-10-27T20:30:00+02:00"},
		},
	} {
		entries := linesOf(t, bookGarden+x.label+treated(x.bed, x.body))
		e := entries[len(entries)-1]
		k, err := Keeping(entries[:len(entries)-1], e.Written, e)
		if err != nil {
			t.Fatal(x.name, err)
		}
		if d := cmp.Diff(x.want, *k.Clock); d != "" {
			t.Errorf("%s (-want +got)\n%s", x.name, d)
		}
		if len(k.Cautions) < 2 {
			t.Errorf("%s: a treatment without cautions", x.name)
		}
	}
}

// A label that was read again under another number begins anew; under the same
// number what is not stated again holds on.
func TestLabelAnew(t *testing.T) {
	again := `{"id":"00dc6c2a-1000-7000-8000-000000000008","kind":"label","v":1,"time":"2000-06-02T08:00:00+02:00","written":"2000-06-02T08:00:00+02:00","body":{"material":"sulfur_wg","interval_days":7}}
`
	other := `{"id":"00dc6c2a-1000-7000-8000-000000000009","kind":"label","v":1,"time":"2000-06-03T08:00:00+02:00","written":"2000-06-03T08:00:00+02:00","body":{"material":"sulfur_wg","max_season":6,"registration":"EXAMPLE-2"}}
`
	known := func(text string) []string {
		s, err := ShedOf(linesOf(t, text), garden.DayOf(time.Date(2000, 7, 6, 0, 0, 0, 0, time.UTC)))
		if err != nil || len(s.Items) != 1 || len(s.Items[0].Labels) != 1 {
			t.Fatal(s, err)
		}
		var out []string
		for _, v := range s.Items[0].Labels[0].Values {
			if v.Known {
				out = append(out, v.Field)
			}
		}
		return out
	}
	if d := cmp.Diff([]string{"registration", "harvest_days", "reentry_hours", "interval_days"}, known(bookGarden+labelLine+again)); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]string{"registration", "max_season"}, known(bookGarden+labelLine+again+other)); d != "" {
		t.Error(d)
	}
}

// Nothing that was written or happened after a morning changes the shed of it.
func TestShedAsOf(t *testing.T) {
	text := bookGarden + labelLine +
		`{"id":"00dc6c2a-1000-7000-8000-00000000000a","kind":"stock","v":1,"time":"2000-06-01T08:00:00+02:00","written":"2000-06-09T08:00:00+02:00","body":{"material":"sulfur_wg","amount":2,"unit":"kg","batch":"A"}}
{"id":"00dc6c2a-1000-7000-8000-00000000000b","kind":"stock","v":1,"time":"2000-06-05T08:00:00+02:00","written":"2000-06-05T08:00:00+02:00","body":{"material":"khco3","amount":1}}
{"id":"00dc6c2a-1000-7000-8000-00000000000c","kind":"stock","v":1,"time":"2000-06-05T08:00:00+02:00","written":"2000-06-12T08:00:00+02:00","replaces":"00dc6c2a-1000-7000-8000-00000000000b","body":{"material":"khco3","amount":3}}
`
	entries := linesOf(t, text)
	loc, err := time.LoadLocation("Europe/Amsterdam")
	if err != nil {
		t.Fatal(err)
	}
	changed := 0
	last := 0
	for day := garden.DayOf(time.Date(2000, 5, 30, 0, 0, 0, 0, time.UTC)); day < garden.DayOf(time.Date(2000, 6, 16, 0, 0, 0, 0, time.UTC)); day++ {
		whole, err := ShedOf(entries, day)
		if err != nil {
			t.Fatal(err)
		}
		cut := slices.DeleteFunc(slices.Clone(entries), func(e ledger.Entry) bool { return !e.Known(day.At(6, loc)) })
		part, err := ShedOf(cut, day)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(part, whole); d != "" {
			t.Errorf("%s (-cut +whole)\n%s", day, d)
		}
		if len(whole.Items) != last {
			last, changed = len(whole.Items), changed+1
		}
	}
	if changed < 2 {
		t.Errorf("the shed changed %d times: the days do not try anything", changed)
	}
}

func TestStates(t *testing.T) {
	text := bookGarden + `{"id":"00dc6c2a-1000-7000-8000-000000000011","kind":"harvest","v":1,"time":"2000-07-01T08:00:00+02:00","written":"2000-07-01T08:05:00+02:00","bed":"one","body":{"kg":1}}
{"id":"00dc6c2a-1000-7000-8000-000000000012","kind":"harvest","v":1,"time":"2000-07-01T08:00:00+02:00","written":"2000-07-01T09:05:00+02:00","bed":"one","replaces":"00dc6c2a-1000-7000-8000-000000000011","body":{"kg":2}}
{"id":"00dc6c2a-1000-7000-8000-000000000013","kind":"harvest","v":1,"time":"2000-07-02T08:00:00+02:00","written":"2000-07-02T08:05:00+02:00","bed":"one","body":{"kg":3}}
{"id":"00dc6c2a-1000-7000-8000-000000000014","kind":"withdrawal","v":1,"time":"2000-07-02T08:00:00+02:00","written":"2000-07-02T09:05:00+02:00","bed":"one","replaces":"00dc6c2a-1000-7000-8000-000000000013","body":{}}
{"id":"00dc6c2a-1000-7000-8000-000000000015","kind":"harvest","v":1,"time":"2000-07-09T08:00:00+02:00","written":"2000-07-09T08:05:00+02:00","bed":"one","body":{"kg":4}}
{"id":"00dc6c2a-1000-7000-8000-000000000016","kind":"song","v":9,"time":"2000-07-01T08:00:00+02:00","written":"2000-07-01T08:05:00+02:00","tune":"x"}
`
	entries := linesOf(t, text)
	slices.Reverse(entries) // the order of arrival means nothing
	now := time.Date(2000, 7, 6, 6, 0, 0, 0, time.UTC)
	said, err := Listed(entries, now, Wanted{Replaced: true, From: garden.DayOf(time.Date(2000, 6, 30, 0, 0, 0, 0, time.UTC))})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range said {
		got = append(got, s.ID[33:]+" "+s.Kind+" "+s.State)
	}
	want := []string{"011 harvest replaced", "016 song newer", "012 harvest holds", "013 harvest withdrawn", "014 withdrawal holds", "015 harvest to come"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	e := entries[slices.IndexFunc(entries, func(e ledger.Entry) bool { return strings.HasSuffix(string(e.ID), "013") })]
	shown, err := Show(entries, now, e)
	if err != nil || len(shown.History) != 2 || shown.Holds != "" {
		t.Errorf("%+v %v", shown, err)
	}
}

// Every schema is made, and every result has one.
func TestResultSchemas(t *testing.T) {
	for _, name := range Results() {
		b, err := Schema(name)
		if err != nil || !strings.Contains(string(b), `"$id": "urn:oidium:`) {
			t.Errorf("%s: %.80s %v", name, b, err)
		}
	}
	if _, err := Schema("shde"); err == nil {
		t.Error("a result that is not there has a schema")
	}
}
