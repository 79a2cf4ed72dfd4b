package ledger

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"
)

func compile(t *testing.T, kind string) *jsonschema.Schema {
	t.Helper()
	raw, err := Schema(kind)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler() // checks the schema against the 2020-12 metaschema
	c.AssertFormat()
	if err := c.AddResource("line.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("line.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSchemaAgreesWithTheReader(t *testing.T) {
	whole := compile(t, "")
	var good []string
	good = append(good, season()...)
	good = append(good,
		line(30, "weather", "a", `{"start":"2000-06-14T00:00:00Z","t":[1,null],"rh":[50,60]}`),
		line(31, "severity", "a", `{"age":"whole","face":"lower","share":0.1}`),
		line(32, "removal", "a", `{"ages":["old"],"share":0.1}`),
		line(33, "stock", "", `{"material":"khco3","opened":"2000-04-01","amount":1}`),
	)
	for _, l := range good {
		var head struct{ Kind string }
		if err := json.Unmarshal([]byte(l), &head); err != nil {
			t.Fatal(err)
		}
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(l))
		if err != nil {
			t.Fatal(err)
		}
		if err := compile(t, head.Kind).Validate(v); err != nil {
			t.Errorf("%s\n%v", l, err)
		}
		if err := whole.Validate(v); err != nil {
			t.Errorf("as any line: %s\n%v", l, err)
		}
	}
	for _, l := range []string{
		line(1, "bed", "a", `{"length_m":-3}`),
		line(1, "bed", "a", `{"lenght_m":3}`),
		line(1, "bed", "", `{"length_m":3}`),
		line(1, "bed", "a", `{}`),
		line(1, "stock", "a", `{"material":"khco3"}`),
		line(1, "taly", "a", `{}`),
		line(1, "severity", "a", `{"age":"whole","face":"lower","share":12}`),
		line(1, "planting", "a", `{"planting":"p","planted":"2001-02-29"}`),
		line(1, "planting", "a", `{"planting":" p"}`),
		line(1, "withdrawal", "", `{}`),
		strings.Replace(line(1, "note", "", `{"text":"x"}`), "08:00:00+02:00", "08:00:00", 1),
		strings.Replace(line(1, "note", "", `{"text":"x"}`), "-7000-", "-4000-", 1),
	} {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(l))
		if err != nil {
			t.Fatal(err)
		}
		if whole.Validate(v) == nil {
			t.Errorf("the schema lets pass: %s", l)
		}
		if _, err := ParseLine([]byte(l), vocabulary); err == nil {
			t.Errorf("the reader lets pass: %s", l)
		}
	}
}

// Whatever line the rules allow, the reader takes and the schema takes.
func TestSchemaAgreesOnEveryKind(t *testing.T) {
	for _, k := range kinds {
		s := compile(t, k.name)
		t.Run(k.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				l := drawLine(t, 50, k, rapid.Bool().Draw(t, "full"))
				v, err := jsonschema.UnmarshalJSON(strings.NewReader(l))
				if err != nil {
					t.Fatal(err)
				}
				_, readerErr := ParseLine([]byte(l), vocabulary)
				schemaErr := s.Validate(v)
				if schemaErr != nil && readerErr == nil {
					t.Fatalf("only the schema refuses %s\n%v", l, schemaErr)
				}
				if readerErr != nil && schemaErr == nil && !strings.Contains(readerErr.Error(), "nothing is guessed") && !strings.Contains(readerErr.Error(), "there is no reading") && !strings.Contains(readerErr.Error(), "there are no values") {
					t.Fatalf("only the reader refuses %s\n%v", l, readerErr)
				}
				if readerErr == nil {
					e, _ := ParseLine([]byte(l), vocabulary)
					back, err := e.Parts().Entry()
					if err != nil || back.sum != e.sum || back.open != e.open || string(back.line) != string(e.line) {
						t.Fatalf("taken apart and put together it is another:\n%s\n%s\n%v", e.line, back.line, err)
					}
				}
			})
		})
	}
}

// Numbers as in RFC 8785, appendix B (from memory, checked against the bit
// patterns given there).
func TestCanonicalNumbers(t *testing.T) {
	for _, c := range []struct {
		bits uint64
		want string
	}{
		{0x0000000000000000, "0"},
		{0x8000000000000000, "0"},
		{0x0000000000000001, "5e-324"},
		{0x7fefffffffffffff, "1.7976931348623157e+308"},
		{0x4340000000000000, "9007199254740992"},
		{0x4430000000000000, "295147905179352830000"},
		{0x44b52d02c7e14af5, "9.999999999999997e+22"},
		{0x44b52d02c7e14af6, "1e+23"},
		{0x444b1ae4d6e2ef4e, "999999999999999700000"},
		{0x444b1ae4d6e2ef50, "1e+21"},
		{0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7"},
		{0x3eb0c6f7a0b5ed8d, "0.000001"},
		{0x41b3de4355555553, "333333333.3333332"},
		{0xbecbf647612f3696, "-0.0000033333333333333333"},
		{0x43143ff3c1cb0959, "1424953923781206.2"},
	} {
		if got := string(appendNumber(nil, math.Float64frombits(c.bits))); got != c.want {
			t.Errorf("%016x: %s, want %s", c.bits, got, c.want)
		}
	}
}

// The ordering and escaping example of RFC 8785, 3.2.2 and 3.2.3 (from memory).
func TestCanonicalOrderAndEscapes(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{
			`{"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One","\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"}`,
			"{\"\\r\":\"Carriage Return\",\"1\":\"One\",\"\u0080\":\"Control\",\"ö\":\"Latin Small Letter O With Diaeresis\",\"€\":\"Euro Sign\",\"😀\":\"Emoji: Grinning Face\",\"\ufb33\":\"Hebrew Letter Dalet With Dagesh\"}",
		},
		{
			`{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`,
			`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
		},
	} {
		v, err := parseTree([]byte(c.in))
		if err != nil {
			t.Fatal(err)
		}
		if got := string(appendCanonical(nil, v)); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, l := range season() {
		f.Add([]byte(l))
	}
	f.Add([]byte("\xff\xfe{"))
	f.Add([]byte(`{"id":{"a":[[[[[[null]]]]]]}}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		entries, problems, err := Read(bytes.NewReader(b), vocabulary)
		if err != nil {
			return
		}
		for _, p := range problems {
			if p.Line < 1 || p.What == "" {
				t.Errorf("problem without line or words: %+v", p)
			}
		}
		for _, e := range entries {
			again, err := ParseLine(e.Line(), vocabulary)
			if err != nil || again.sum != e.sum || !bytes.Equal(again.Line(), e.Line()) {
				t.Errorf("%s is not read back as itself: %v", e.Line(), err)
			}
		}
		if _, err := Fold(entries, at("2100-01-01T00:00:00Z")); err != nil {
			t.Error(err)
		}
	})
}
