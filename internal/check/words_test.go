package check

import (
	"bytes"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// rule is something no published file holds. The patterns are written in pieces
// so that this file does not hold them itself.
type rule struct {
	what string
	re   *regexp.Regexp
	code bool // looked for in Go code outside tests only
}

func pattern(pieces ...string) *regexp.Regexp {
	return regexp.MustCompile(strings.Join(pieces, ""))
}

var rules = []rule{
	{"names the host of a package registry", pattern(`(?i)(proxy|sum)\.go`, `lang\.org|registry\.npm`, `js\.org|deb\.deb`, `ian\.org|py`, `pi\.org|crates\.`, `io\b`), false},
	{"holds a path of one machine", pattern(`(^|[^\w.])/(wo`, `rk|ro`, `ot|ho`, `me/\w+)/`), false},
	{"holds a path of one machine", pattern(`/tm`, `p/(oid`, `ium|tb)\b`), false},
	{"speaks of how it was written", pattern(`(?i)trans`, `cript|seed doc`, `ument|sub`, `agent|practitioner'?s acc`, `ount|language mo`, `del\b`), false},
	{"names a numbered issue", pattern(`(?i)\bissue`, `s? #?\d+\b`), false},
	{"leaves something undone", pattern(`\b(TO`, `DO|FIX`, `ME)\b`), false},
	{"leaves something undone", pattern(`(?i)not (yet )?imple`, `mented|place`, `holder text|lorem ip`, `sum`), false},
	{"calls panic; return an error, or say in a comment why it is unreachable", pattern(`(^|[^\w.])pan`, `ic\(`), true},
}

// unreachable frees a panic on its line or the one before.
const unreachable = "unreachable"

// words finds what no published file holds.
func words(t *tree) []finding {
	var found []finding
	for _, name := range t.files {
		b, err := t.read(name)
		if err != nil {
			found = append(found, finding{file: name, text: err.Error()})
			continue
		}
		if bytes.IndexByte(b, 0) >= 0 {
			continue // not a text
		}
		goCode := path.Ext(name) == ".go" && !strings.HasSuffix(name, "_test.go")
		before := ""
		for i, line := range strings.Split(string(b), "\n") {
			for _, r := range rules {
				if r.code && (!goCode || strings.HasPrefix(strings.TrimSpace(line), "//") ||
					strings.Contains(before, unreachable) || strings.Contains(line, unreachable)) {
					continue
				}
				if m := r.re.FindString(line); m != "" {
					found = append(found, finding{file: name, line: i + 1, text: r.what + ": " + strings.TrimSpace(m)})
				}
			}
			before = line
		}
	}
	return found
}

// pngLimit is the largest PNG, in bytes, that is taken for a drawing.
const pngLimit = 200_000

// photographs finds pictures taken with a camera: by the name of the file, by
// its first bytes, or, for PNG, by its size.
func photographs(t *tree) []finding {
	var found []finding
	for _, name := range t.files {
		ext := strings.ToLower(path.Ext(name))
		b, err := t.read(name)
		if err != nil {
			found = append(found, finding{file: name, text: err.Error()})
			continue
		}
		switch {
		case slices.Contains([]string{".jpg", ".jpeg", ".heic", ".heif", ".webp", ".avif", ".tif", ".tiff", ".dng", ".raw"}, ext),
			bytes.HasPrefix(b, []byte{0xff, 0xd8, 0xff}),
			len(b) > 12 && slices.Contains([]string{"ftypheic", "ftypheix", "ftypmif1", "ftypavif"}, string(b[4:12])),
			bytes.HasPrefix(b, []byte("RIFF")) && len(b) > 12 && string(b[8:12]) == "WEBP",
			bytes.HasPrefix(b, []byte("\x89PNG")) && len(b) > pngLimit:
			found = append(found, finding{file: name, text: "looks like a photograph"})
		}
	}
	return found
}

func TestWords(t *testing.T) { report(t, words(own(t))) }

func TestPhotographs(t *testing.T) { report(t, photographs(own(t))) }
