package ledger

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"oidium/garden"
)

var vocabulary = Vocabulary{
	Crops:     []string{"cucumber", "pumpkin", "rose"},
	Materials: []string{"sulfur-wg", "khco3", "milk-10"},
}

// id makes a UUID of version 7 for a test.
func id(n int) string { return fmt.Sprintf("00dcfa3d-0000-7000-8000-%012x", n) }

// line makes a line with a usual envelope.
func line(n int, kind, bed, body string, more ...string) string {
	b := ""
	if bed != "" {
		b = fmt.Sprintf(`"bed":%q,`, bed)
	}
	return fmt.Sprintf(`{"id":%q,"kind":%q,"v":1,"time":"2000-06-14T08:00:00+02:00","written":"2000-06-14T08:01:00+02:00",%s%s"body":%s}`,
		id(n), kind, b, strings.Join(more, ""), body)
}

func TestParseLineSaysWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ name, line, field, what, hint string }{
		{"not json", `{"id":`, "", "ends in the middle", "one JSON object"},
		{"list", `[1]`, "", "a list", "one JSON object"},
		{"twice", `{"id":"a","id":"b"}`, "", `"id" stands twice`, ""},
		{"latin-1", "{\"id\":\"caf\xe9\"}", "", "byte 11 is 0xe9, which is not UTF-8", ""},
		{"half surrogate", line(1, "note", "", `{"text":"\ud800"}`), "", "cannot be read", ""},
		{"empty", `{}`, "id", "is missing", ""},
		{"unknown kind", line(1, "taly", "a", `{}`), "kind", `"taly" is not a known kind`, `did you mean "tally"?`},
		{"unknown field", line(1, "bed", "a", `{"lenght_m":3}`), "body.lenght_m", "not a known field", `did you mean "length_m"?`},
		{"short field", line(1, "site", "", `{"lat":52}`), "body.lat", "not a known field", `did you mean "latitude"?`},
		{"unknown head", line(1, "note", "", `{"text":"x"}`, `"note":1,`), "note", "not a field of an entry", ""},
		{"negative length", line(1, "bed", "a", `{"length_m":-3}`), "body.length_m", "-3 is not above 0", "a length in metres"},
		{"no bed", line(1, "harvest", "", `{"kg":1}`), "bed", "a harvest needs it", ""},
		{"bed too many", line(1, "stock", "a", `{"material":"khco3"}`), "bed", "does not belong", ""},
		{"unknown crop", line(1, "planting", "a", `{"planting":"p","crop":"cucmber"}`), "body.crop", "not a known crop", `did you mean "cucumber"?`},
		{"unknown material", line(1, "stock", "", `{"material":"sulphur"}`), "body.material", "not a known material", "sulfur-wg"},
		{"impossible date", line(1, "planting", "a", `{"planting":"p","planted":"2001-02-29"}`), "body.planted", "a date that does not exist", "calendar"},
		{"date form", line(1, "planting", "a", `{"planting":"p","planted":"14.6.2000"}`), "body.planted", "is not a date", "2000-06-14"},
		{"impossible time", strings.Replace(line(1, "note", "", `{"text":"x"}`), "2000-06-14T08:00", "2000-06-31T08:00", 1), "time", "a date that does not exist", ""},
		{"no zone", strings.Replace(line(1, "note", "", `{"text":"x"}`), "08:00:00+02:00", "08:00:00", 1), "time", "has no zone", "offset"},
		{"far year", strings.Replace(line(1, "note", "", `{"text":"x"}`), "2000-06-14", "0200-06-14", 1), "time", "not between", "year"},
		{"per cent", line(1, "severity", "a", `{"age":"old","face":"upper","share":12}`), "body.share", "12 is above 1", "0.12 for 12 %"},
		{"no reading", line(1, "severity", "a", `{"age":"old","face":"upper"}`), "body.share", "there is no reading", "a scale and a grade"},
		{"two readings", line(1, "severity", "a", `{"age":"old","face":"upper","share":0.1,"scale":"cucumber-0-9","grade":3}`), "body.grade", "two readings", ""},
		{"grade alone", line(1, "severity", "a", `{"age":"old","face":"upper","grade":3}`), "body.scale", "go together", ""},
		{"no such grade", line(1, "severity", "a", `{"age":"old","face":"upper","scale":"horsfall-barratt","grade":2.5}`), "body.grade", "whole steps", ""},
		{"more than looked at", line(1, "tally", "a", `{"counts":[{"plant":1,"age":"old","face":"upper","inspected":3,"infected":4}]}`), "body.counts[0].infected", "4 leaves with mildew among 3", ""},
		{"missing in list", line(1, "tally", "a", `{"counts":[{"plant":1,"age":"old","face":"upper","inspected":3}]}`), "body.counts[0].infected", "is missing", ""},
		{"enum", line(1, "tally", "a", `{"counts":[{"plant":1,"age":"olde","face":"upper","inspected":3,"infected":1}]}`), "body.counts[0].age", `"olde" is not one of`, `did you mean "old"?`},
		{"fraction", line(1, "planting", "a", `{"planting":"p","plants":2.5}`), "body.plants", "not a whole number", ""},
		{"type", line(1, "harvest", "a", `{"kg":"3"}`), "body.kg", `the text "3" where a number`, ""},
		{"null", line(1, "harvest", "a", `{"kg":null}`), "body.kg", "is null", "leave the field out"},
		{"rates", line(1, "label", "", `{"material":"khco3","rate_low_g_per_l":5,"rate_high_g_per_l":3}`), "body.rate_high_g_per_l", "below the lowest", ""},
		{"end", line(1, "treatment", "a", `{"material":"khco3","end":"2000-06-14T07:00:00+02:00"}`), "body.end", "before the time it began", ""},
		{"zone", line(1, "site", "", `{"zone":"Europe/Amsterdm"}`), "body.zone", "not a time zone", ""},
		{"hours", line(1, "weather", "", `{"start":"2000-06-14T00:00:00Z","t":[1,2],"rh":[50]}`), "body.rh", "has 1 values where another has 2", ""},
		{"humidity", line(1, "weather", "", `{"start":"2000-06-14T00:00:00Z","rh":[50,101]}`), "body.rh[1]", "101 is above 100", ""},
		{"no values", line(1, "weather", "", `{"start":"2000-06-14T00:00:00Z"}`), "body.t", "no values", ""},
		{"version 4", strings.Replace(line(1, "note", "", `{"text":"x"}`), "-7000-", "-4000-", 1), "id", "not of version 7", "made once"},
		{"itself", line(1, "note", "", `{"text":"x"}`, `"replaces":"`+id(1)+`",`), "replaces", "cannot replace itself", ""},
		{"withdrawal of nothing", line(1, "withdrawal", "", `{}`), "replaces", "a withdrawal needs it", ""},
		{"nothing said", line(1, "site", "", `{}`), "body", "is empty", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ParseLine([]byte(c.line), vocabulary)
			ps, ok := err.(Problems)
			if !ok {
				t.Fatalf("got error %v, want Problems", err)
			}
			p := ps[0]
			if p.Field != c.field || !strings.Contains(p.What, c.what) || !strings.Contains(p.Hint, c.hint) {
				t.Errorf("got field %q, what %q, hint %q\nwant %q, %q, %q", p.Field, p.What, p.Hint, c.field, c.what, c.hint)
			}
		})
	}
}

func TestReadNamesTheLine(t *testing.T) {
	in := "\ufeff" + strings.Join([]string{
		line(1, "bed", "a", `{"length_m":4,"width_m":1}`),
		"",
		line(2, "bed", "b", `{"length_m":4,"width_m":-1}`),
		line(1, "bed", "a", `{ "width_m":1.0, "length_m":4e0 }`), // the same, in other words
		line(1, "bed", "a", `{"length_m":5,"width_m":1}`),
	}, "\r\n")
	entries, problems, err := Read(strings.NewReader(in), vocabulary)
	if err != nil || len(entries) != 1 || len(problems) != 2 {
		t.Fatalf("got %d entries, problems %v, error %v", len(entries), problems, err)
	}
	if got := problems[0].Error(); !strings.HasPrefix(got, "line 3: body.width_m: -1 is not above 0") {
		t.Errorf("first problem: %s", got)
	}
	if got := problems[1].Error(); !strings.HasPrefix(got, "line 5: id: ") || !strings.Contains(got, "line 1 too") {
		t.Errorf("second problem: %s", got)
	}
}

func TestReadRefusesOtherEncodings(t *testing.T) {
	for name, in := range map[string]string{
		"UTF-16":     "\xff\xfe{\x00\"\x00",
		"zero bytes": "{\x00\"\x00",
		"compressed": "\x1f\x8b\x08\x00",
	} {
		_, _, err := Read(strings.NewReader(in), Vocabulary{})
		if err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: got error %v", name, err)
		}
	}
}

func TestNewerLineIsKeptUntouched(t *testing.T) {
	in := `{"v":2, "kind":"moonphase","id":"` + id(7) + `","time":"2000-06-14T08:00:00Z","written":"2000-06-14T08:00:00Z","mood":{"big":12345678901234567890},"body":[1]}`
	e, err := ParseLine([]byte(in+"\n"), vocabulary)
	if err != nil || !e.newer() || string(e.Line()) != in {
		t.Fatalf("got %s, newer %v, error %v", e.Line(), e.newer(), err)
	}
	g, err := Fold([]Entry{e}, at("2000-06-15T06:00:00Z"))
	if err != nil {
		t.Fatal(err)
	}
	if !hasWarning(g, "newer-entries") {
		t.Errorf("no warning names it: %v", g.Warnings)
	}
}

func at(s string) time.Time {
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		panic(err)
	}
	return t
}

func hasWarning(g *garden.Garden, code string) bool {
	for _, w := range g.Warnings {
		if w.Code == code {
			return true
		}
	}
	return false
}

func parse(t testing.TB, lines ...string) []Entry {
	t.Helper()
	entries, problems, err := Read(strings.NewReader(strings.Join(lines, "\n")), vocabulary)
	if err != nil || len(problems) > 0 {
		t.Fatalf("reading: %v %v", problems, err)
	}
	return entries
}
