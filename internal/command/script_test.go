package command_test

import (
	"context"
	"os"
	"testing"
	"unicode/utf16"

	"github.com/rogpeppe/go-internal/testscript"

	"oidium/internal/command"
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
		},
	})
}
