package read

import (
	"fmt"
	"regexp"
	"strings"
	"time"
)

// sampleLines is how many lines are read before it is decided how a table is
// laid out.
const sampleLines = 3000

// layout is how a table is to be read.
type layout struct {
	sep    separator
	nums   numbers
	heads  []heading
	skip   int // lines before the first row
	fields int // of a full row
	when   timeColumns
	order  dateOrder
	step   time.Duration
	cols   map[quantity]int
	units  map[quantity]unitOf
	count  bool  // rain counts up
	empty  []int // columns that are named like a quantity but hold no numbers
}

// sniff decides how the lines of a sample are laid out.
func sniff(sample []string, o Options) (*layout, error) {
	l := &layout{}
	l.sep, l.fields = findSeparator(nonEmpty(sample))
	if l.fields < 2 {
		return nil, fmt.Errorf("no sign cuts the lines into columns; is it a table?")
	}
	rows := make([][]string, len(sample))
	for i, s := range sample {
		rows[i] = l.sep.split(strings.TrimPrefix(s, "#"), nil)
	}
	l.nums.comma = l.sep != ',' && decimalComma(flatten(rows, 200)) || l.sep == ',' && quotedComma(sample)
	if err := l.head(rows, o); err != nil {
		return nil, err
	}
	data := rows[l.skip:]
	full := data[:0:0]
	for _, r := range data {
		if len(r) >= l.fields-1 && len(r) > 1 {
			full = append(full, r)
		}
	}
	if len(full) == 0 {
		return nil, fmt.Errorf("no rows of %d columns were found", l.fields)
	}
	if err := l.times(full, o); err != nil {
		return nil, err
	}
	usable := func(i int) bool { return l.numeric(full, i) }
	var err error
	if l.cols, err = pick(l.heads, usable, o); err != nil {
		return nil, err
	}
	for c, h := range l.heads {
		if q, _ := h.what(); q != "" && q != qStation && !usable(c) {
			l.empty = append(l.empty, c)
		}
	}
	if err := l.steps(full, o); err != nil {
		return nil, err
	}
	l.counting(full)
	return l, l.chooseUnits(full, o)
}

func nonEmpty(lines []string) []string {
	var out []string
	for _, l := range lines {
		if strings.TrimSpace(l) != "" {
			out = append(out, l)
		}
	}
	return out
}

func flatten(rows [][]string, n int) []string {
	var out []string
	// The middle of the sample is surely past the head.
	for _, r := range rows[min(len(rows)/2, max(0, len(rows)-n)):] {
		if out = append(out, r...); len(out) > 20*n {
			break
		}
	}
	return out
}

var quotedNumber = regexp.MustCompile(`"-?\d+,\d+"`)

// quotedComma reports whether numbers are written "12,5" in quotes.
func quotedComma(sample []string) bool {
	n := 0
	for _, s := range sample[len(sample)/2:] {
		if quotedNumber.MatchString(s) {
			n++
		}
	}
	return n > len(sample)/4
}

// looksLikeData reports whether a row holds values rather than names.
func (l *layout) looksLikeData(r []string) bool {
	values, texts, any := 0, 0, false
	for _, f := range r {
		_, kind := l.nums.parse(f)
		switch kind {
		case isNumber, isTrace:
			values++
			any = true
		case isMissing:
			values++
		default:
			if _, k := parseStamp(f, orderUnknown); k != noStamp {
				values++
				any = true
			} else {
				texts++
			}
		}
	}
	return any && values > texts
}

// head finds the first row and the names above it.
func (l *layout) head(rows [][]string, o Options) error {
	l.skip = -1
	for i, r := range rows {
		if len(r) >= l.fields-1 && len(r) > 1 && l.looksLikeData(r) {
			l.skip = i
			break
		}
	}
	if l.skip < 0 {
		return fmt.Errorf("no row with values was found in the first %d lines", len(rows))
	}
	if o.Names != nil {
		for _, n := range o.Names {
			l.heads = append(l.heads, parseHeading(n))
		}
		return nil
	}
	top := l.skip
	for top > 0 && l.skip-top < 3 && len(rows[top-1]) >= l.fields-1 && len(rows[top-1]) <= l.fields+1 && !l.looksLikeData(rows[top-1]) {
		top--
	}
	if top == l.skip {
		return &Ambiguous{Option: "names", Text: fmt.Sprintf("the file has %d columns and no line that names them", l.fields)}
	}
	for c := range max(l.fields, len(rows[l.skip-1])) {
		var name []string
		for _, r := range rows[top:l.skip] {
			if c < len(r) && r[c] != "" {
				name = append(name, r[c])
			}
		}
		l.heads = append(l.heads, parseHeading(strings.Join(name, " ")))
	}
	return nil
}

// numeric reports whether a column holds numbers, as far as it holds anything.
func (l *layout) numeric(rows [][]string, c int) bool {
	number, other := 0, 0
	for _, r := range rows {
		if c < len(r) {
			switch _, k := l.nums.parse(r[c]); k {
			case isNumber, isTrace:
				number++
			case isText:
				other++
			}
		}
	}
	return number > 0 && other*2 <= number
}

// daily reports whether the rows are days.
func (l *layout) daily() bool { return l.step >= 23*time.Hour }

// counting finds out whether the rain column counts up.
func (l *layout) counting(rows [][]string) {
	c, ok := l.cols[qRain]
	if !ok || l.daily() {
		return
	}
	up, down, wet, zero := 0, 0, 0, 0
	prev, have := 0.0, false
	for _, r := range rows {
		if c >= len(r) {
			continue
		}
		x, k := l.nums.parse(r[c])
		if k != isNumber || isSentinel(x) {
			continue
		}
		switch {
		case x > 0:
			wet++
		default:
			zero++
		}
		if have && x > prev {
			up++
		}
		if have && x < prev {
			down++
		}
		prev, have = x, true
	}
	// A gauge that counts hardly ever steps down; rain in the hour does so as
	// often as up.
	named := l.heads[c].cumulative()
	l.count = up > 3 && down*10 <= up && (named || wet > 2*zero) || named && up > 0 && down*4 <= up
}
