package command_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"oidium/internal/command"
	"oidium/internal/work"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"oidium": func() {
			os.Exit(command.Run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
		},
	})
}

// The scripts in testdata are what a person types and what comes back.
func TestScripts(t *testing.T) {
	if testing.Short() {
		t.Skip("the scripts run whole rounds; they are left to the run without -short")
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			// utf16 FROM TO writes a file as some spreadsheets do.
			"utf16": func(ts *testscript.TestScript, _ bool, args []string) {
				out := []byte{0xff, 0xfe}
				for _, u := range utf16.Encode([]rune(ts.ReadFile(args[0]))) {
					out = append(out, byte(u), byte(u>>8))
				}
				ts.Check(os.WriteFile(ts.MkAbs(args[1]), out, 0o600))
			},
			// drawing FILE writes a picture of two by two dots.
			"drawing": func(ts *testscript.TestScript, _ bool, args []string) {
				var b bytes.Buffer
				ts.Check(png.Encode(&b, image.NewGray(image.Rect(0, 0, 2, 2))))
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), b.Bytes(), 0o600))
			},
			// damage FILE turns over the bits of a word in the entries of a book.
			"damage": func(ts *testscript.TestScript, _ bool, args []string) {
				b, err := os.ReadFile(ts.MkAbs(args[0]))
				ts.Check(err)
				i := bytes.Index(b, []byte("cucumber"))
				if i < 0 {
					ts.Fatalf("%s holds no cucumber", args[0])
				}
				b[i] ^= 0x20
				ts.Check(os.WriteFile(ts.MkAbs(args[0]), b, 0o600))
			},
			// valid NAME holds what was printed last to the published schema of a
			// result: one document, or one on each line.
			"valid": func(ts *testscript.TestScript, neg bool, args []string) {
				if neg || len(args) != 1 {
					ts.Fatalf("usage: valid NAME")
				}
				ts.Check(obeys(args[0], ts.ReadFile("stdout")))
			},
		},
	})
}

// obeys holds documents to the published schema of a result.
func obeys(name, text string) error {
	b, err := work.Schema(name)
	if err != nil {
		return err
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		return err
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("result.json", doc); err != nil {
		return err
	}
	schema, err := c.Compile("result.json")
	if err != nil {
		return err
	}
	dec := json.NewDecoder(strings.NewReader(text))
	dec.UseNumber()
	for n := 0; ; n++ {
		var v any
		switch err := dec.Decode(&v); {
		case errors.Is(err, io.EOF) && n > 0:
			return nil
		case err != nil:
			return fmt.Errorf("document %d: %w", n+1, err)
		}
		if err := schema.Validate(v); err != nil {
			return fmt.Errorf("document %d: %w", n+1, err)
		}
	}
}
