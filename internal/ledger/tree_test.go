package ledger

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
)

// plainTree is the reference: the value by encoding/json.
func plainTree(b []byte) (any, bool) {
	d := json.NewDecoder(strings.NewReader(string(b)))
	d.UseNumber()
	var v any
	if !json.Valid(b) || d.Decode(&v) != nil {
		return nil, false
	}
	return v, true
}

// plain turns a tree into what encoding/json gives.
func plain(v any) any {
	switch v := v.(type) {
	case number:
		return json.Number(v.text)
	case []any:
		out := make([]any, len(v))
		for i, e := range v {
			out[i] = plain(e)
		}
		return out
	case *object:
		out := map[string]any{}
		for i, n := range v.names {
			out[n] = plain(v.values[i])
		}
		return out
	}
	return v
}

// stricter are the reasons for which parseTree refuses what is JSON.
var stricter = []string{"stands twice", "cannot be read", "is too large", "nested deeper", "is not UTF-8"}

func sameTree(t *testing.T, b []byte) {
	t.Helper()
	got, err := parseTree(b)
	want, ok := plainTree(b)
	switch {
	case err == nil && !ok:
		t.Errorf("%q was read and is no JSON", b)
	case err == nil && !reflect.DeepEqual(plain(got), want):
		t.Errorf("%q: got %#v, want %#v", b, plain(got), want)
	case err != nil && ok:
		for _, s := range stricter {
			if strings.Contains(err.Error(), s) {
				return
			}
		}
		t.Errorf("%q is JSON and was refused: %v", b, err)
	}
}

// The values are those that RFC 8259 names as right or wrong, and the cases in
// which readers of JSON are known to differ.
var trees = []string{
	`null`, `true`, `false`, ` [ ] `, `{}`, `{"a":1}`, `{"a":{"b":[1,2,{"c":null}]}}`, `"\u00e9\ud83d\ude00\/\b"`,
	`0`, `-0`, `1e5`, `1E+5`, `1.5e-3`, `-1.25`, `123456789012345678901234567890`,
	`01`, `-`, `1.`, `.5`, `+1`, `1e`, `0x1`, `NaN`, `Infinity`, `1e999`,
	`[1,]`, `[,1]`, `[1 2]`, `{"a":1,}`, `{a:1}`, `{"a" 1}`, `{"a":}`, `{"a":1 "b":2}`, `{"a":1,"a":2}`,
	`"`, `"\x"`, `"\u12"`, `"\u12g4"`, `"\ud800"`, `"\ud800\u0041"`, `"\udc00"`, `"a` + "\n" + `b"`, "\"\t\"", `'a'`,
	`tru`, `nul`, `truex`, `true false`, ``, ` `, `[`, `{`, `{"a"`, `{"a":`, "\x00", "\ufeff{}", `[1]]`, "\"\ufffd\"", "\"\xff\"",
	strings.Repeat("[", 30) + strings.Repeat("]", 30),
}

func TestTreeIsThatOfEncodingJSON(t *testing.T) {
	for _, s := range trees {
		sameTree(t, []byte(s))
	}
}

func FuzzTree(f *testing.F) {
	for _, s := range trees {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) { sameTree(t, b) })
}
