package scout

import (
	_ "embed" // the sentences
	"math"
	"strconv"
	"strings"

	"oidium/garden"
	"oidium/words"
)

//go:embed data/words.tsv
var wordsText string

var sentences = words.Lazy(&wordsText)

// say returns the sentence with the given key; pairs are names of gaps and what
// goes there.
func say(key string, pairs ...string) string { return sentences().Fill(key, pairs) }

// percent prints a share with two digits that count.
func percent(share float64) string {
	p := 100 * share
	decimals := 0
	if p > 0 && p < 10 {
		decimals = 1
	}
	return strconv.FormatFloat(p, 'f', decimals, 64) + " %"
}

func number(v float64, decimals int) string { return strconv.FormatFloat(v, 'f', decimals, 64) }

func hundred(p float64) string { return number(100*p, 0) }

// Words are the assessment in sentences; rule is set where the threshold for old
// leaves of cucurbits applies.
func (a Assessment) Words(rule bool) []string {
	var out []string
	for f, e := range a.Face {
		side := say("side." + garden.Face(f).String())
		n, k := strconv.Itoa(e.Inspected), strconv.Itoa(e.Infected)
		switch {
		case e.Inspected == 0:
			out = append(out, say("seen.not", "side", side))
		case e.Infected == 0:
			out = append(out, say("seen.none", "side", side, "n", n, "most", percent(e.AtMost)))
		default:
			out = append(out, say("seen.some", "side", side, "k", k, "n", n, "share", percent(e.Share), "lo", percent(e.Likely.Lo), "hi", percent(e.Likely.Hi)))
		}
	}
	if a.WithMildew > 0 {
		out = append(out, say("plants.some", "with", strconv.Itoa(a.WithMildew), "plants", strconv.Itoa(a.Plants), "expected", number(a.Expected*float64(a.Plants), 0)))
	}
	key := "plants.rho-prior"
	if a.Fitted {
		key = "plants.rho-fitted"
	}
	out = append(out, say(key, "rho", number(a.Rho, 2)))
	if rule {
		out = append(out, a.Rule.words()...)
	}
	return out
}

func (r Rule) words() []string {
	fill := []string{"k", strconv.Itoa(r.Infected), "n", strconv.Itoa(r.Leaves), "of", strconv.Itoa(r.Threshold), "short", strconv.Itoa(r.Short)}
	key := "rule.not"
	switch {
	case r.Reached:
		key = "rule.reached"
	case r.Short > 0:
		key = "rule.short"
	case r.Infected > 0:
		key = "rule.few"
	}
	out := []string{say(key, fill...)}
	if r.OneFace {
		out = append(out, say("rule.one-face"))
	}
	return out
}

// Words are the walk and what it buys in sentences; share is the one that must
// not be missed, as in the [Walk].
func (s Sample) Words(share float64) []string {
	if share <= 0 {
		share = ruleInfected.V / ruleLeaves.V
	}
	var ages []string
	for _, a := range s.Ages {
		ages = append(ages, a.String())
	}
	out := []string{
		say("walk.size", "per", strconv.Itoa(s.PerPlant), "ages", strings.Join(ages, "/"), "plants", strconv.Itoa(s.Plants), "leaves", strconv.Itoa(s.Leaves), "minutes", number(math.Ceil(s.Minutes), 0)),
		say("walk.buys", "share", percent(share), "chance", hundred(s.Chance), "most", percent(s.AtMost)),
	}
	if s.Limit != "" {
		out = append(out, say("walk."+s.Limit))
	}
	return out
}

// WordsOfCV says how good an estimate is (see [PlanEstimate]).
func WordsOfCV(cv float64) string { return say("walk.cv", "cv", percent(cv)) }

// Words are the rule with its errors at the given shares, which must stand beside
// it wherever it is printed.
func (s Stop) Words(shares ...float64) []string {
	out := []string{say("stop.rule", "per", strconv.Itoa(s.PerPlant), "clean", percent(s.Clean), "bad", percent(s.Bad), "most", strconv.Itoa(s.MostPlants))}
	for _, x := range shares {
		p := s.Performance(x)
		out = append(out, say("stop.line", "share", percent(x), "c", hundred(p.Clean), "b", hundred(p.Bad), "u", hundred(p.Undecided), "plants", number(p.Plants, 1)))
	}
	clean, bad := s.waldLeaves()
	h1, h2, slope := s.waldLines()
	return append(out, say("stop.independent", "clean", number(clean, 0), "bad", number(bad, 0), "slope", number(slope, 4), "below", number(h1, 2), "above", number(h2, 2)))
}

// Words is the pace in a sentence.
func (g Growth) Words() string {
	switch {
	case g.Doubling <= 0:
		return say("pace.shrinks")
	case g.DoublingBand.Hi <= 0:
		return say("pace.grows-open", "days", number(g.Doubling, 1), "lo", number(g.DoublingBand.Lo, 1))
	}
	return say("pace.grows", "days", number(g.Doubling, 1), "lo", number(g.DoublingBand.Lo, 1), "hi", number(g.DoublingBand.Hi, 1))
}

// Words is a person's eye in sentences.
func (r Rating) Words() []string {
	out := []string{say("eye.agree", "agree", number(r.Agree, 2))}
	switch {
	case math.IsNaN(r.Times):
	case r.Times > eyeEven:
		out = append(out, say("eye.high", "times", number(r.Times, 1)))
	case r.Times < 1/eyeEven:
		out = append(out, say("eye.low", "times", percent(r.Times)))
	default:
		out = append(out, say("eye.even"))
	}
	return append(out, say("eye.spread", "spread", number(100*r.Spread, 1)))
}

// eyeEven is the ratio up to which small patches count as read right; numerical.
const eyeEven = 1.15
