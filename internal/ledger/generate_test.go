package ledger

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"time"

	"pgregory.net/rapid"

	"oidium/garden"
)

// drawValue draws a JSON value that the rule allows. full: every field is there.
func drawValue(t *rapid.T, r *rule, full bool) any {
	if r.holes && rapid.IntRange(0, 4).Draw(t, "hole") == 0 {
		return nil
	}
	switch r.shape {
	case text:
		return drawText(t, r)
	case numeral, integer:
		return drawNumber(t, r)
	case truth:
		return rapid.Bool().Draw(t, "truth")
	case date:
		return garden.Day(rapid.IntRange(11000, 11300).Draw(t, "day")).String()
	case instant:
		return drawInstant(t, 11300)
	case list:
		out := []any{}
		for range rapid.IntRange(1, 3).Draw(t, "items") {
			out = append(out, drawValue(t, r.elem, full))
		}
		return out
	}
	o := &object{}
	for i := range r.fields {
		f := &r.fields[i]
		if f.required || full || rapid.IntRange(0, 2).Draw(t, "stated") == 0 {
			o.names, o.values = append(o.names, f.name), append(o.values, drawValue(t, f, full))
		}
	}
	return o
}

func drawText(t *rapid.T, r *rule) string {
	switch {
	case r.enum != nil:
		return rapid.SampledFrom(r.enum).Draw(t, "enum")
	case r.uuid:
		return id(rapid.IntRange(1, 40).Draw(t, "id"))
	case r.vocab != "":
		return rapid.SampledFrom(vocabulary.words(r.vocab)).Draw(t, "vocab")
	case r.name == "zone":
		return "Europe/Amsterdam"
	case r.name == "country":
		return "NL"
	case r.name == "sha256":
		return strings.Repeat("0123456789abcdef", 4)
	case r.word:
		return rapid.SampledFrom([]string{"a", "b", "c 1", "é"}).Draw(t, "word")
	}
	return rapid.SampledFrom([]string{"x", "two words", "tab\tline\nend", `"quoted" \ back`, "ü 😀"}).Draw(t, "text")
}

func drawNumber(t *rapid.T, r *rule) number {
	lo, hi := -1000.0, 1000.0
	if r.min != nil {
		lo = *r.min
		hi = max(hi, lo)
	}
	if r.over != nil {
		lo = *r.over + 0.001
	}
	if r.max != nil {
		hi = *r.max
	}
	var v float64
	if r.shape == integer {
		v = float64(rapid.IntRange(int(math.Ceil(lo)), int(hi)).Draw(t, "integer"))
	} else {
		v = rapid.Float64Range(lo, hi).Draw(t, "number")
		if rapid.Bool().Draw(t, "short") {
			if s := math.Round(v*10) / 10; s >= lo && s <= hi {
				v = s
			}
		}
	}
	return number{strconv.FormatFloat(v, 'g', -1, 64), v}
}

func drawInstant(t *rapid.T, last int) string {
	day := garden.Day(rapid.IntRange(11000, last).Draw(t, "day"))
	zone := rapid.SampledFrom([]*time.Location{time.UTC, time.FixedZone("", 7200), time.FixedZone("", -12600)}).Draw(t, "zone")
	return day.At(rapid.IntRange(0, 23).Draw(t, "hour"), zone).Format(time.RFC3339)
}

// repair makes fields agree that a rule alone does not tie.
func repair(o *object, kind string) {
	body, _ := o.get("body")
	b := body.(*object)
	put := func(name string, v any) {
		for i, n := range b.names {
			if n == name {
				b.values[i] = v
			}
		}
	}
	drop := func(name string) {
		*b = *without(b, func(n string) bool { return n == name })
	}
	swap := func(low, high string) {
		l, ok := b.get(low)
		h, ok2 := b.get(high)
		if ok && ok2 && l.(number).v > h.(number).v {
			put(low, h)
			put(high, l)
		}
	}
	head, _ := o.get("time")
	switch kind {
	case "tally":
		list, _ := b.get("counts")
		for _, c := range list.([]any) {
			co := c.(*object)
			in, _ := co.get("inspected")
			for i, n := range co.names {
				if n == "infected" {
					co.values[i] = in
				}
			}
		}
	case "severity":
		// One reading: a share, or a grade of a scale.
		if g, ok := b.get("grade"); ok {
			put("grade", number{"5", 5})
			if _, ok := b.get("scale"); !ok || int(g.(number).v)%2 == 0 {
				drop("grade")
				drop("scale")
			} else {
				drop("share")
			}
		} else {
			drop("scale")
		}
	case "bed":
		if l, ok := b.get("outline"); ok && len(l.([]any)) < 3 {
			drop("outline")
		}
	case "planting":
		drop("cleared")
		drop("last_pick")
	case "label":
		swap("rate_low_g_per_l", "rate_high_g_per_l")
	case "guess":
		swap("low", "high")
	case "treatment", "climate":
		for _, n := range []string{"end", "reentry", "harvest_from"} {
			put(n, head)
		}
	case "look":
		drop("volunteers_mildewed")
		drop("starts_mildewed")
	case "photo":
		drop("data")
	case "reading", "log":
		put("place", "soil")
		drop("heap")
	case "blanking":
		put("what", "person")
	case "trial":
		drop("plots")
		drop("arms")
	case "move":
		put("to", "elsewhere")
		put("as", "other")
	case "weather", "forecast":
		n := -1
		for _, c := range hourly {
			if l, ok := b.get(c); ok && n < 0 {
				n = len(l.([]any))
			}
			if l, ok := b.get(c); ok && (n == 0 || len(l.([]any)) != n) {
				drop(c)
			}
		}
	}
}

// drawLine draws a line of the kind that the reader takes.
func drawLine(t *rapid.T, n int, k kind, full bool) string {
	r := groupRule(reflect.TypeOf(k.make()).Elem())
	o := &object{}
	add := func(name string, v any) { o.names, o.values = append(o.names, name), append(o.values, v) }
	add("id", id(n))
	add("kind", k.name)
	add("v", number{"1", 1})
	add("time", drawInstant(t, 11250))
	add("written", drawInstant(t, 11260))
	if rapid.Bool().Draw(t, "who") || full {
		add("who", rapid.SampledFrom([]string{"me", "you"}).Draw(t, "whom"))
	}
	if rapid.Bool().Draw(t, "device") || full {
		add("device", rapid.SampledFrom([]string{"phone", "desk"}).Draw(t, "which"))
	}
	if k.bed == must || k.bed == may && (rapid.Bool().Draw(t, "bedded") || k.name == "reading" || k.name == "log") {
		add("bed", rapid.SampledFrom([]string{"a", "b", "c 1"}).Draw(t, "bed"))
	}
	if k.replaces == must || k.replaces == may && rapid.IntRange(0, 3).Draw(t, "corrects") == 0 {
		if other := rapid.IntRange(1, 40).Draw(t, "replaced"); other != n {
			add("replaces", id(other))
		} else if k.replaces == must {
			add("replaces", id(n+1))
		}
	}
	add("body", drawValue(t, &r, full))
	repair(o, k.name)
	return string(appendCanonical(nil, o))
}

// drawLedger draws entries of every kind.
func drawLedger(t *rapid.T) []Entry {
	var out []Entry
	lines := []string{
		line(41, "bed", "a", `{"length_m":4,"width_m":1,"order":1}`),
		line(42, "bed", "c 1", `{"length_m":4,"width_m":1,"order":0}`),
	}
	for n := 1; n <= 25; n++ {
		k := kinds[rapid.IntRange(0, len(kinds)-1).Draw(t, "kind")]
		lines = append(lines, drawLine(t, n, k, false))
	}
	for _, l := range lines {
		e, err := ParseLine([]byte(l), vocabulary)
		if err != nil {
			if strings.Contains(err.Error(), "body: is empty") || strings.Contains(err.Error(), "nothing is guessed") || strings.Contains(err.Error(), "there is no reading") || strings.Contains(err.Error(), "there are no values") {
				continue
			}
			t.Fatalf("%s\n%v", l, err)
		}
		out = append(out, e)
	}
	return out
}

func describeLedger(entries []Entry) string {
	var b strings.Builder
	for _, e := range entries {
		fmt.Fprintf(&b, "%s\n", e.line)
	}
	return b.String()
}
