package command

import (
	"strings"
	"testing"

	"github.com/alecthomas/kong"
)

func TestFlagsFirst(t *testing.T) {
	parser, err := kong.New(new(commands), kong.Vars{"entry": idWord})
	if err != nil {
		t.Fatal(err)
	}
	for in, want := range map[string]string{
		"write tally tunnel 0/5 --at yesterday 1/5 --show 0": "write --at yesterday --show tally tunnel 0/5 1/5 0",
		"book correct last --who Ann kg=3 --json":            "book correct --who Ann --json last kg=3",
		"write tally one 0/5 - 1/5 -3":                       "write tally one 0/5 - 1/5 -3",
		"write note --at=now a -- --b c":                     "write --at=now note a -- --b c",
		"write note book list":                               "write note book list",
		"round --colour red":                                 "round --colour red",
		"":                                                   "",
		"--help":                                             "--help",
	} {
		if got := strings.Join(flagsFirst(parser.Model.Node, strings.Fields(in)), " "); got != want {
			t.Errorf("%q became %q, want %q", in, got, want)
		}
	}
}
