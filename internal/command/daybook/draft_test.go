package daybook

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"oidium/internal/ledger"
)

func TestSay(t *testing.T) {
	for _, x := range []struct {
		kind, words, bed, body string
	}{
		{"harvest", "tunnel|3,2", "tunnel", `{"kg":3.2}`},
		{"harvest", "Cucumber tunnel|7 lb|saleable=90 %", "tunnel", `{"kg":3.17515,"saleable":0.9}`},
		{"note", "saw the|first spots", "", `{"text":"saw the first spots"}`},
		{"note", "rose|text=saw = the first", "rose", `{"text":"saw = the first"}`},
		{"tally", "tunnel|0/5|1+0/5|check=lens", "tunnel", `{"check":"lens","counts":[{"age":"old","face":"upper","infected":0,"inspected":5,"plant":1},{"age":"old","face":"upper","infected":1,"inspected":5,"plant":2},{"age":"old","face":"lower","infected":0,"inspected":5,"plant":2}]}`},
		{"severity", "tunnel|12 %|age=old|face=up", "tunnel", `{"age":"old","face":"upper","share":0.12}`},
		{"removal", "tunnel|0,1|ages=old, middle|to=heap", "tunnel", `{"ages":["old","middle"],"share":0.1,"to":"heap"}`},
		{"treatment", "tunnel|khco3|litres=2,5|end=45 min|seen=last|below=yes", "tunnel", `{"below":true,"end":"2000-07-06T09:15:00+02:00","litres":2.5,"material":"khco3","seen":["00dc6c2a-1000-7000-8000-000000000006"]}`},
		{"treatment", "tunnel|khco3|actives=potassium hydrogen carbonate 850 g/kg; a wetter", "tunnel", `{"actives":[{"content":850,"name":"potassium hydrogen carbonate","unit":"g/kg"},{"name":"a wetter"}],"material":"khco3"}`},
		{"site", "name=A|sprayer.kind=knapsack|sprayer.tank_l=15|latitude=52°06' N|longitude=5.18", "", `{"latitude":52.1,"longitude":5.18,"name":"A","sprayer":{"kind":"knapsack","tank_l":15}}`},
		{"planting", "rose|crop=rose|planting=r1|planted=10 November 1997|pick_on=monday;fri", "rose", `{"crop":"rose","pick_on":["monday","friday"],"planted":"1997-11-10","planting":"r1"}`},
		{"bed", "ro|name=Another|length=12 ft", "ro", `{"length_m":3.6576,"name":"Another"}`},
		{"reading", "tunnel|68 °F|place=soil|depth=5 cm", "tunnel", `{"depth_m":0.05,"place":"soil","t_c":20}`},
		{"guess", "tunnel|what=covered|value=0.05|day=in 7 days", "tunnel", `{"day":"2000-07-13","value":0.05,"what":"covered"}`},
		{"trial", `trial=t|arms=[{"arm":"a","check":true},{"arm":"b","material":"khco3"}]`, "", `{"arms":[{"arm":"a","check":true},{"arm":"b","material":"khco3"}],"trial":"t"}`},
	} {
		p := pageOf(t, someGarden)
		d, err := p.New(x.kind)
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Say(strings.Split(x.words, "|")); err != nil {
			t.Errorf("%s %s: %v", x.kind, x.words, err)
			continue
		}
		e, err := d.Entry(anyID, p.now)
		if err != nil {
			t.Errorf("%s %s: %v", x.kind, x.words, err)
			continue
		}
		if string(e.Bed) != x.bed {
			t.Errorf("%s %s: bed %q, want %q", x.kind, x.words, e.Bed, x.bed)
		}
		if d := cmp.Diff(x.body, bodyOf(t, e)); d != "" {
			t.Errorf("%s %s: (-want +got)\n%s", x.kind, x.words, d)
		}
	}
}

func bodyOf(t *testing.T, e ledger.Entry) string {
	t.Helper()
	var line struct {
		Body json.RawMessage `json:"body"`
	}
	if err := json.Unmarshal(e.Line(), &line); err != nil {
		t.Fatal(err)
	}
	return string(line.Body)
}

// What is wrong is said with the field, and with what would be right.
func TestSayRefuses(t *testing.T) {
	for _, x := range []struct{ kind, words, part string }{
		{"harvest", "tunel|3", `bed: there is no bed "tunel" (the beds are tunnel, rose)`},
		{"harvest", "tunnel", "kg is missing: produce taken, kg; give it as kg="},
		{"harvest", "tunnel|-3", "kg: -3 is below 0"},
		{"harvest", "tunnel|3|saleable=90", "saleable: 90 is above 1"},
		{"harvest", "tunnel|3|weight=4", "weight: is not a field of a harvest"},
		{"harvest", "tunnel|3|when=yesterday", "given with --at"},
		{"harvest", "tunnel|3 gal", "whose gal?"},
		{"treatment", "tunnel|sulfur", "fits more than one material: sulfur_wg"},
		{"treatment", "tunnel|sulphr_wg", `did you mean "sulfur_wg"?`},
		{"treatment", "tunnel|khco3|end=yesterday 7:00", "end: is before the time it began"},
		{"treatment", "tunnel|khco3|end=half past", `"half past" is not a time`},
		{"treatment", "tunnel|khco3|seen=abcdef", `there is no entry "abcdef"`},
		{"planting", "tunnel|planted=30 February|planting=x", `"30 February" is not a date of the calendar`},
		{"planting", "tunnel|crop=cucumbr|planting=x", `did you mean "cucumber"?`},
		{"planting", "tunnel|planted=4/6|planting=x", "write the month as a word"},
		{"setting", "tunnel|water=drop", `"drop" is not one of drip, overhead, hand`},
		{"setting", "tunnel|light=25", "light_h: 25 is above 24"},
		{"site", "latitude=5 E", "E is not a latitude"},
		{"site", "sprayer=big", "sprayer.kind=VALUE"},
		{"site", "hello", "is not understood (write field=value)"},
		{"trial", "trial=t|arms=a;b", "write it as JSON"},
		{"tally", "tunnel|1", "of how many leaves"},
		{"check-leaves", "tunnel|2,5", "is not a whole number"},
		{"diagnosis", "tunnel|verdict=powdery mildew|rubs_off=maybe", "neither yes nor no"},
	} {
		p := pageOf(t, someGarden)
		d, err := p.New(x.kind)
		if err != nil {
			t.Fatal(err)
		}
		err = d.Say(strings.Split(x.words, "|"))
		if err == nil {
			_, err = d.Entry(anyID, p.now)
		}
		if err == nil {
			t.Errorf("%s %s: no error, want one with %q", x.kind, x.words, x.part)
			continue
		}
		if got := strings.Join(Wrong(err), "\n"); !strings.Contains(got, x.part) {
			t.Errorf("%s %s: %q, want %q in it", x.kind, x.words, got, x.part)
		}
	}
}

func TestNotYet(t *testing.T) {
	p := pageOf(t, someGarden)
	d, err := p.New("harvest")
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Say([]string{"tunnel", "3"}); err != nil {
		t.Fatal(err)
	}
	d.At = p.now.Add(6 * time.Minute)
	if _, err := d.Entry(anyID, p.now); err == nil || !strings.Contains(err.Error(), "has not come yet") {
		t.Errorf("a harvest of the future: %v", err)
	}
	d.At = p.now.Add(4 * time.Minute) // two clocks may differ by so much
	if _, err := d.Entry(anyID, p.now); err != nil {
		t.Error(err)
	}
	if err := d.When("yesterday"); err != nil {
		t.Fatal(err)
	}
	if got := d.At.Format(time.RFC3339); got != "2000-07-05T12:00:00+02:00" {
		t.Errorf("yesterday is %s", got)
	}
}

// In a correction, words that name their plants change these only.
func TestCorrectPlants(t *testing.T) {
	p := pageOf(t, someGarden)
	e, err := p.Find("0005")
	if err != nil {
		t.Fatal(err)
	}
	d, err := p.Correct(e)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Say([]string{"2:0+2/4", "check="}); err != nil {
		t.Fatal(err)
	}
	got, err := d.Entry("00dc6c2a-1000-7000-8000-00000000000f", p.now)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := p.Lines(got)
	if err != nil {
		t.Fatal(err)
	}
	want := []Line{{"counts", "0+1/4 0+2/4"}, {"sure", "likely"}}
	if d := cmp.Diff(want, lines); d != "" || got.Replaces != e.ID || !got.Time.Equal(e.Time) {
		t.Errorf("replaces %s at %s (-want +got)\n%s", got.Replaces, got.Time, d)
	}
}

func TestFill(t *testing.T) {
	p := pageOf(t, someGarden)
	for text, part := range map[string]string{
		`{"kg": 3`:               "not one JSON object",
		`[1]`:                    "not one JSON object",
		`{"kg":1}{"kg":2}`:       "oidium ledger import",
		`{"kind":"x","body":{}}`: "oidium ledger import",
	} {
		d, err := p.New("harvest")
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Fill([]byte(text)); err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("%s: %v, want %q", text, err, part)
		}
	}
	d, err := p.New("harvest")
	if err != nil {
		t.Fatal(err)
	}
	// Words of the command line come before the file.
	if err := d.Say([]string{"tunnel", "4"}); err != nil {
		t.Fatal(err)
	}
	if err := d.Fill([]byte("\ufeff{\"kg\":3,\"pieces\":12}")); err != nil {
		t.Fatal(err)
	}
	e, err := d.Entry(anyID, p.now)
	if err != nil || bodyOf(t, e) != `{"kg":4,"pieces":12}` {
		t.Errorf("%s %v", e.Line(), err)
	}
}

func TestFind(t *testing.T) {
	entries := readAll(t, someGarden)
	for text, want := range map[string]string{
		"last": "00dc6c2a-1000-7000-8000-000000000006", "…000000003": "00dc6c2a-1000-7000-8000-000000000003",
		"00dc6c2a-1000-7000-8000-000000000001": "00dc6c2a-1000-7000-8000-000000000001",
	} {
		if e, err := FindEntry(entries, text); err != nil || string(e.ID) != want {
			t.Errorf("%q: %s %v", text, e.ID, err)
		}
	}
	for text, part := range map[string]string{"003": "no entry", "00dc": "6 entries fit", "zzzz": "no entry"} {
		if e, err := FindEntry(entries, text); err == nil || !strings.Contains(err.Error(), part) {
			t.Errorf("%q: %s %v, want %q", text, e.ID, err, part)
		}
	}
	if _, err := FindEntry(nil, "last"); err == nil {
		t.Error("an entry was found in an empty book")
	}
}

// Every kind the ledger has golden lines of can be taken up and written again
// without a change, and has words for a reader.
func TestGoldenAgain(t *testing.T) {
	files, err := filepath.Glob("../../ledger/testdata/v1/*.jsonl")
	if err != nil || len(files) < 30 {
		t.Fatal(len(files), err)
	}
	p := pageOf(t, someGarden)
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range readAll(t, string(b)) {
			d, err := p.Correct(e)
			if err != nil {
				t.Fatal(f, err)
			}
			d.Replaces = string(e.Replaces)
			line, err := d.line(string(e.ID), e.Written)
			if err != nil {
				t.Fatal(f, err)
			}
			again, err := ledger.ParseLine(line, ledger.Vocabulary{})
			if err != nil || bodyOf(t, again) != bodyOf(t, e) {
				t.Errorf("%s: %s became %s: %v", f, e.Line(), line, err)
			}
			lines, err := p.Lines(e)
			if err != nil || len(lines) == 0 && e.Kind != "withdrawal" {
				t.Errorf("%s: no words for %s: %v", f, e.Line(), err)
			}
			if p.Brief(e) == "" || p.Sentence(e) == "" {
				t.Errorf("%s: no brief for %s", f, e.Line())
			}
		}
	}
}
