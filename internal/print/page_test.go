package print

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"html"
	"math"
	"os"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"oidium/garden"
	"oidium/internal/work"
)

func page(t testing.TB, r *work.Round) string {
	t.Helper()
	var b bytes.Buffer
	if err := HTML(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestPageGolden(t *testing.T) {
	for _, f := range rounds() {
		switch f.name {
		case "june-day", "nobody-looked", "empty-garden":
			golden(t, f.name+".html", []byte(page(t, f.r)))
		}
	}
}

func TestPageGivesBackTheErrorOfTheWriter(t *testing.T) {
	if err := HTML(&full{room: 300}, juneDay()); err == nil {
		t.Error("a full disk went unnoticed")
	}
}

// number reads an attribute of the first element that matches.
func numbers(t *testing.T, re *regexp.Regexp, s string) [][]float64 {
	t.Helper()
	var out [][]float64
	for _, m := range re.FindAllStringSubmatch(s, -1) {
		row := make([]float64, len(m)-1)
		for i, v := range m[1:] {
			x, err := strconv.ParseFloat(v, 64)
			if err != nil {
				t.Fatal(err)
			}
			row[i] = x
		}
		out = append(out, row)
	}
	return out
}

var (
	plotSVG   = regexp.MustCompile(`(?s)<svg viewBox="0 0 168 96".*?</svg>`)
	plotRect  = regexp.MustCompile(`<rect class="(?:leaf|spot)" width="([\d.]+)" height="([\d.]+)"`)
	plotDot   = regexp.MustCompile(`<circle cx="([\d.]+)" cy="([\d.]+)" r="([\d.]+)"`)
	svgOrFig  = regexp.MustCompile(`(?s)<svg.*?</svg>`)
	classSpot = regexp.MustCompile(`class="spot"`)
)

// The area of dots is reckoned from the page itself, as it would be measured
// with a planimeter: area of the circles over area of the rectangle.
func TestDotsOnThePageCoverExactlyTheShare(t *testing.T) {
	for _, f := range rounds() {
		drawn := plotSVG.FindAllString(page(t, f.r), -1)
		if len(drawn) != len(f.r.Beds) {
			t.Fatalf("%s: %d drawings for %d beds", f.name, len(drawn), len(f.r.Beds))
		}
		for i, svg := range drawn {
			b := f.r.Beds[i]
			if b.Crop == "" {
				if classSpot.MatchString(svg) {
					t.Errorf("%s, %s: dots where nothing grows", f.name, b.Name)
				}
				continue
			}
			rect := numbers(t, plotRect, svg)[0]
			dots := 0.0
			for _, d := range numbers(t, plotDot, svg) {
				dots += math.Pi * d[2] * d[2]
			}
			share := dots / (rect[0] * rect[1])
			if strings.Contains(svg, `<rect class="spot"`) {
				share = 1 - share
			}
			if math.Abs(share-b.Covered.Mid) > 2e-5 {
				t.Errorf("%s, %s: %.6f drawn, %.6f covered", f.name, b.Name, share, b.Covered.Mid)
			}
		}
	}
}

func TestStipple(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		w, h := rapid.Float64Range(20, 300).Draw(t, "w"), rapid.Float64Range(20, 300).Draw(t, "h")
		bed := garden.BedID(rapid.String().Draw(t, "bed"))
		s := newStipple(bed, share, w, h)
		area := 0.0
		for i, d := range s.Dots {
			area += math.Pi * d.R * d.R
			if d.X-d.R < -1e-9 || d.Y-d.R < -1e-9 || d.X+d.R > w+1e-9 || d.Y+d.R > h+1e-9 {
				t.Fatalf("dot %v sticks out of %v x %v", d, w, h)
			}
			for _, o := range s.Dots[:i] {
				if math.Hypot(d.X-o.X, d.Y-o.Y) < d.R+o.R-1e-9 {
					t.Fatalf("dots %v and %v lie over each other at share %v", d, o, share)
				}
			}
		}
		got := area / (w * h)
		if s.Turned {
			got = 1 - got
		}
		if math.Abs(got-share) > 1e-12 {
			t.Fatalf("%v drawn, %v wanted", got, share)
		}
		if !reflect.DeepEqual(s, newStipple(bed, share, w, h)) {
			t.Fatal("drawn twice, not the same")
		}
	})
}

func TestSpotsStayWhereTheyWere(t *testing.T) {
	small, large := newStipple("tunnel", 0.02, 150, 76), newStipple("tunnel", 0.3, 150, 76)
	for i, d := range small.Dots {
		if o := large.Dots[i]; o.X != d.X || o.Y != d.Y {
			t.Fatalf("spot %d moved from %v to %v", i, d, o)
		}
	}
	if len(large.Dots) <= len(small.Dots) {
		t.Error("no new spots at a larger share")
	}
}

func TestDotsMeanLeafAndNothingElse(t *testing.T) {
	for _, f := range rounds() {
		p := page(t, f.r)
		for _, svg := range svgOrFig.FindAllString(p, -1) {
			if strings.Contains(svg, "<circle") && !plotSVG.MatchString(svg) {
				t.Errorf("%s: dots outside the plan: %.80s", f.name, svg)
			}
		}
		if strings.Contains(p, "<pattern") {
			t.Errorf("%s: a pattern that could be taken for mildew", f.name)
		}
	}
}

func TestPageAsksForNothing(t *testing.T) {
	style := regexp.MustCompile(`(?s)<style>(.*?)</style>`)
	address := regexp.MustCompile(`(?i)(src|href|action|data|poster|srcset)\s*=\s*"([^"]*)"`)
	for _, f := range rounds() {
		p := page(t, f.r)
		m := style.FindStringSubmatch(p)
		if m == nil {
			t.Fatal("no style")
		}
		sum := sha256.Sum256([]byte(m[1]))
		policy := `default-src 'none'; style-src 'sha256-` + base64.StdEncoding.EncodeToString(sum[:]) + `'; base-uri 'none'; form-action 'none'`
		if !strings.Contains(html.UnescapeString(p), `content="`+policy+`"`) {
			t.Errorf("%s: the policy does not fit the style", f.name)
		}
		for _, a := range address.FindAllStringSubmatch(p, -1) {
			if !strings.HasPrefix(a[2], "#bed-") {
				t.Errorf("%s: %s", f.name, a[0])
			}
		}
		for _, bad := range []string{"<script", "@import", "url(", " style=", "javascript:", "<link", "<img", "<iframe", "ZgotmplZ"} {
			if strings.Contains(p, bad) {
				t.Errorf("%s: %q on the page", f.name, bad)
			}
		}
	}
}

// One heading of the first order, landmarks, language, title: the parts of
// WCAG 2.2, 1.3.1, 2.4.1, 2.4.2 and 3.1.1 that can be read from the source.
func TestPageHasItsLandmarks(t *testing.T) {
	id := regexp.MustCompile(` id="([^"]*)"`)
	for _, f := range rounds() {
		p := page(t, f.r)
		for part, n := range map[string]int{
			"<h1>": 1, "<main": 1, "<header": 1, "<footer": 1, `<html lang="en">`: 1, "<title>": 1,
			`<meta name="viewport" content="width=device-width, initial-scale=1">`: 1,
		} {
			if got := strings.Count(p, part); got != n {
				t.Errorf("%s: %d times %s", f.name, got, part)
			}
		}
		seen := map[string]bool{}
		for _, m := range id.FindAllStringSubmatch(p, -1) {
			if seen[m[1]] {
				t.Errorf("%s: id %s twice", f.name, m[1])
			}
			seen[m[1]] = true
		}
		for _, m := range regexp.MustCompile(`(?:href="#|aria-labelledby=")([^"]*)"`).FindAllStringSubmatch(p, -1) {
			if !seen[m[1]] {
				t.Errorf("%s: nothing has the id %s", f.name, m[1])
			}
		}
		for _, svg := range svgOrFig.FindAllString(p, -1) {
			if !strings.Contains(svg, `role="img" aria-label="`) && !strings.Contains(svg, `aria-hidden="true"`) {
				t.Errorf("%s: a drawing without words: %.80s", f.name, svg)
			}
		}
	}
}

func TestUserTextIsEscaped(t *testing.T) {
	const evil = `<script>alert(1)</script>"'><img src=x onerror=alert(1)>`
	for _, f := range rounds() {
		scribble(reflect.ValueOf(f.r), func() string { return evil })
		p := page(t, f.r)
		for _, bad := range []string{"<script", "<img", evil} {
			if strings.Contains(p, bad) {
				t.Errorf("%s: %q came through", f.name, bad)
			}
		}
	}
}

// colours reads the custom properties of a block of the style sheet.
func colours(t *testing.T, css, after string) map[string]string {
	t.Helper()
	_, block, ok := strings.Cut(css, after)
	if !ok {
		t.Fatalf("no %q in the style", after)
	}
	block, _, _ = strings.Cut(block, "}")
	out := map[string]string{}
	for _, m := range regexp.MustCompile(`--(\w+):(#[0-9a-f]{3,6})`).FindAllStringSubmatch(block, -1) {
		out[m[1]] = m[2]
	}
	return out
}

// contrast is the contrast ratio of WCAG 2.2, from the relative luminance.
func contrast(t *testing.T, a, b string) float64 {
	t.Helper()
	light := func(hex string) float64 {
		hex = strings.TrimPrefix(hex, "#")
		if len(hex) == 3 {
			hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
		}
		v, err := strconv.ParseUint(hex, 16, 32)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for i, k := range []float64{0.2126, 0.7152, 0.0722} {
			c := float64(v>>(16-8*i)&0xff) / 255
			if c <= 0.04045 {
				c /= 12.92
			} else {
				c = math.Pow((c+0.055)/1.055, 2.4)
			}
			sum += k * c
		}
		return sum
	}
	la, lb := light(a), light(b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

func TestContrast(t *testing.T) {
	// The ends of the scale are from WCAG 2.2; #767676 on white is the usual
	// example of a grey that just passes AA, 4.54 (common practice, no source).
	for _, c := range []struct {
		a, b string
		want float64
	}{{"#000", "#fff", 21}, {"#fff", "#fff", 1}, {"#767676", "#ffffff", 4.54}} {
		if got := contrast(t, c.a, c.b); math.Abs(got-c.want) > 0.005 {
			t.Errorf("contrast of %s on %s is %.3f, want %.2f", c.a, c.b, got, c.want)
		}
	}
	for _, theme := range []string{":root{color-scheme:light dark;", "@media screen and (prefers-color-scheme:dark){:root{", "@page{margin:14mm}\n:root{"} {
		c := colours(t, pageCSS, theme)
		for _, pair := range []struct {
			a, b  string
			least float64
		}{
			{"ink", "paper", 7},
			{"ink", "card", 7},
			{"soft", "paper", 4.5},
			{"soft", "card", 4.5},
			{"leafword", "paper", 4.5},
			{"leafword", "card", 4.5},
			{"spot", "leaf", 3}, // what a drawing needs, WCAG 2.2, 1.4.11
		} {
			if got := contrast(t, c[pair.a], c[pair.b]); got < pair.least {
				t.Errorf("%s on %s in %q: %.2f, want %.1f", pair.a, pair.b, theme, got, pair.least)
			}
		}
	}
}

// A target of 56 px suits a gloved thumb; WCAG 2.2, 2.5.5 asks for 44.
func TestTargetsAreLarge(t *testing.T) {
	for _, part := range []string{"summary", ".tick", ".walk a"} {
		m := regexp.MustCompile(regexp.QuoteMeta("\n"+part+"{") + `[^}]*min-height:(\d+)px`).FindStringSubmatch(pageCSS)
		if m == nil {
			t.Errorf("%s has no least height", part)
			continue
		}
		if n, _ := strconv.Atoi(m[1]); n < 56 {
			t.Errorf("%s is %d px high", part, n)
		}
	}
}

func TestEveryKeyIsThereAndUsed(t *testing.T) {
	w, err := load()
	if err != nil {
		t.Fatal(err)
	}
	key := regexp.MustCompile(`\b(say|count|word)\(?\s*"([a-z.-]+)"`)
	used := map[string]bool{}
	for _, file := range []string{"number.go", "sheet.go", "text.go", "explain.go", "fan.go", "page.go", "page.html", "answer.go", "answer_look.go", "answer_shed.go", "answer_bed.go", "leafpage.go"} {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range key.FindAllStringSubmatch(string(b), -1) {
			switch k := m[2]; {
			case m[1] == "count":
				used[k+".one"], used[k+".many"] = true, true
			case m[1] == "word" || strings.HasSuffix(k, "."):
				for _, have := range keysOf(catalogue) {
					if strings.HasPrefix(have, strings.TrimSuffix(k, ".")+".") {
						used[have] = true
					}
				}
			default:
				used[k] = true
			}
		}
	}
	for k := range used {
		if !w.Has(k) {
			t.Errorf("no sentence for %q", k)
		}
	}
	for _, k := range keysOf(catalogue) {
		if !used[k] {
			t.Errorf("nobody says %q", k)
		}
	}
}

func BenchmarkPage(b *testing.B) {
	r := manyBeds()
	for b.Loop() {
		var out bytes.Buffer
		if err := HTML(&out, r); err != nil {
			b.Fatal(err)
		}
	}
}
