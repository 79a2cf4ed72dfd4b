package ledger

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// An object is a JSON object with its members in the order they were written.
// Values are nil, bool, string, number, []any or *object.
type object struct {
	names  []string
	values []any
}

func (o *object) get(name string) (any, bool) {
	for i, n := range o.names {
		if n == name {
			return o.values[i], true
		}
	}
	return nil, false
}

// number is a JSON number: as written and as a float64.
type number struct {
	text string
	v    float64
}

// maxDepth bounds the nesting of a line; the deepest body uses five levels.
const maxDepth = 24

// parseTree reads one JSON value. It is stricter than encoding/json: a name
// twice in one object, an unpaired surrogate and a number beyond float64 are
// errors.
func parseTree(line []byte) (any, error) {
	if !utf8.Valid(line) {
		return nil, badEncoding(line)
	}
	d := json.NewDecoder(strings.NewReader(string(line)))
	d.UseNumber()
	v, err := treeValue(d, 0)
	if err != nil {
		return nil, tidy(err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("something stands behind the end of the entry: one entry a line")
	}
	return v, nil
}

func badEncoding(line []byte) error {
	for i := 0; i < len(line); {
		r, n := utf8.DecodeRune(line[i:])
		if r == utf8.RuneError && n == 1 {
			return fmt.Errorf("byte %d is %#02x, which is not UTF-8", i+1, line[i])
		}
		i += n
	}
	return nil
}

// tidy says what encoding/json says in the words of a person who types a line.
func tidy(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return errors.New("the line ends in the middle of the entry")
	}
	var s *json.SyntaxError
	if errors.As(err, &s) {
		return fmt.Errorf("it is not JSON: %s (at byte %d)", s.Error(), s.Offset)
	}
	return err
}

func treeValue(d *json.Decoder, depth int) (any, error) {
	if depth > maxDepth {
		return nil, fmt.Errorf("nested deeper than %d levels", maxDepth)
	}
	t, err := d.Token()
	if err != nil {
		return nil, err
	}
	switch t := t.(type) {
	case json.Delim:
		if t == '{' {
			return treeObject(d, depth)
		}
		if t == '[' {
			return treeList(d, depth)
		}
		return nil, fmt.Errorf("unexpected %s", t)
	case json.Number:
		v, err := strconv.ParseFloat(string(t), 64)
		if err != nil || math.IsInf(v, 0) {
			return nil, fmt.Errorf("the number %.40s is too large", string(t))
		}
		return number{string(t), v}, nil
	case string:
		if strings.ContainsRune(t, utf8.RuneError) {
			return nil, errors.New("a text holds a character that cannot be read (U+FFFD or half a surrogate pair)")
		}
		return t, nil
	default: // bool, nil
		return t, nil
	}
}

func treeObject(d *json.Decoder, depth int) (any, error) {
	o := &object{}
	for d.More() {
		t, err := d.Token()
		if err != nil {
			return nil, err
		}
		name, ok := t.(string)
		if !ok {
			return nil, fmt.Errorf("a name was expected, not %v", t)
		}
		if strings.ContainsRune(name, utf8.RuneError) {
			return nil, errors.New("a name holds a character that cannot be read")
		}
		if _, twice := o.get(name); twice {
			return nil, fmt.Errorf("%q stands twice in one object", name)
		}
		v, err := treeValue(d, depth+1)
		if err != nil {
			return nil, err
		}
		o.names, o.values = append(o.names, name), append(o.values, v)
	}
	_, err := d.Token()
	return o, err
}

func treeList(d *json.Decoder, depth int) (any, error) {
	list := []any{}
	for d.More() {
		v, err := treeValue(d, depth+1)
		if err != nil {
			return nil, err
		}
		list = append(list, v)
	}
	_, err := d.Token()
	return list, err
}
