package ledger

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// hourly are the fields of [Hours] that hold values.
var hourly = []string{"t", "rh", "wind", "rain", "rad"}

// columns returns the values by the names in [hourly].
func (h *Hours) columns() []*Values { return []*Values{&h.T, &h.RH, &h.Wind, &h.Rain, &h.Rad} }

// Slim returns the line without its hourly values, and the values apart, for
// keeping them packed. Entries without hourly values give nil. [Restore] puts
// the two together again.
func (e Entry) Slim() ([]byte, *Hours) {
	var h *Hours
	switch b := e.Body.(type) {
	case *Weather:
		h = &b.Hours
	case *Forecast:
		h = &b.Hours
	default:
		return e.Line(), nil
	}
	o, body, err := lineTree(e.line)
	if err != nil { // cannot be: the line was made here
		return e.Line(), nil
	}
	slim := &object{}
	for i, n := range body.names {
		if !slices.Contains(hourly, n) {
			slim.names, slim.values = append(slim.names, n), append(slim.values, body.values[i])
		}
	}
	return canonicalLine(o, appendCanonical(nil, slim)), h
}

// Restore makes the entry again from what [Entry.Slim] gave. h is nil for
// entries without hourly values.
func Restore(slim []byte, h *Hours) (Entry, error) {
	if h == nil {
		return ParseLine(slim, Vocabulary{})
	}
	o, body, err := lineTree(slim)
	if err != nil {
		return Entry{}, err
	}
	for i, v := range h.columns() {
		if *v == nil {
			continue
		}
		vals := make([]any, len(*v))
		for k, x := range *v {
			if !math.IsNaN(x) {
				vals[k] = number{strconv.FormatFloat(x, 'g', -1, 64), x}
			}
		}
		body.names, body.values = append(body.names, hourly[i]), append(body.values, vals)
	}
	e, ps := parseEntry(slim, o, Vocabulary{})
	if len(ps) > 0 {
		return Entry{}, ps
	}
	return e, nil
}

func lineTree(line []byte) (o, body *object, err error) {
	tree, err := parseTree(line)
	if err != nil {
		return nil, nil, err
	}
	o, ok := tree.(*object)
	if ok {
		b, _ := o.get("body")
		body, ok = b.(*object)
	}
	if !ok {
		return nil, nil, fmt.Errorf("the line has no body")
	}
	return o, body, nil
}
