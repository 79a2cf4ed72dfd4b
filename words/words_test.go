package words

import (
	"strings"
	"testing"
)

func TestSay(t *testing.T) {
	c, err := Parse("# a comment\n\nlook\tLook at {n} leaves on {day}.\tnumber, date\r\nnone\tNothing.\t\n")
	if err != nil {
		t.Fatal(err)
	}
	if got := c.Say("look", "n", 50, "day", "Thursday"); got != "Look at 50 leaves on Thursday." {
		t.Error(got)
	}
	if got := c.Say("lok"); got != "<lok>" {
		t.Error(got)
	}
	if !c.Has("none") || c.Has("lok") || c.Has("# a comment") {
		t.Error("has the wrong keys")
	}
}

func TestDamagedCatalogue(t *testing.T) {
	for _, bad := range []string{"key only\n", "key\ttext\n", "a\tx\t\na\ty\t\n", "\tx\t\n"} {
		if _, err := Parse("ok\tfine\t\n" + bad); err == nil || !strings.Contains(err.Error(), "line") {
			t.Errorf("%q: %v", bad, err)
		}
	}
}
