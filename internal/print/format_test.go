package print

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"oidium/internal/work"
)

// The page that describes the round names every field and every word of a fixed
// list; a field that comes must be described.
func TestThePageOfTheFormatIsComplete(t *testing.T) {
	b, err := os.ReadFile("../../docs/format-round.md")
	if err != nil {
		t.Fatal(err)
	}
	page := string(b)
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(ty reflect.Type) {
		for ty.Kind() == reflect.Slice || ty.Kind() == reflect.Pointer {
			ty = ty.Elem()
		}
		if ty.Kind() != reflect.Struct || seen[ty] {
			return
		}
		seen[ty] = true
		for i := range ty.NumField() {
			f := ty.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if name != "" && !strings.Contains(page, "`"+name+"`") {
				t.Errorf("the page does not name the field %s of %s", name, ty.Name())
			}
			for _, word := range strings.Split(f.Tag.Get("enum"), ",") {
				if word != "" && !strings.Contains(page, "`"+word+"`") {
					t.Errorf("the page does not name the word %s of %s", word, name)
				}
			}
			walk(f.Type)
		}
	}
	walk(reflect.TypeFor[work.Round]())
	if len(seen) < 10 {
		t.Fatalf("only %d types seen", len(seen))
	}
}
