package record

import (
	"regexp"
	"strconv"
	"strings"
)

// stages is a growth stage, or a span of stages, on the BBCH scale.
type stages struct {
	printed  string
	from, to int // codes, 0 to 99 or 100 to 999 on the long scale
	long     bool
	ok       bool // printed could be read
}

var stagePattern = regexp.MustCompile(`^(?i:bbch)?\s*(\d{2,3})(?:\s*(?:-|–|to|bis|/)\s*(?i:bbch)?\s*(\d{2,3}))?$`)

// parseStages reads "BBCH 61", "61-69", "14 to 19" or "101–109". What it cannot
// read is kept as printed.
func parseStages(printed string) stages {
	s := stages{printed: printed}
	m := stagePattern.FindStringSubmatch(strings.TrimSpace(printed))
	if m == nil || m[2] != "" && len(m[2]) != len(m[1]) {
		return s
	}
	s.from, _ = strconv.Atoi(m[1])
	s.to = s.from
	if m[2] != "" {
		s.to, _ = strconv.Atoi(m[2])
	}
	if s.to < s.from {
		return stages{printed: printed}
	}
	s.long = len(m[1]) == 3
	s.ok = true
	return s
}

// principal returns the principal growth stage of a code, its first digit.
func (s stages) principal(code int) int {
	if s.long {
		return code / 100
	}
	return code / 10
}

// String returns the codes, or that the text could not be read.
func (s stages) String() string {
	if !s.ok {
		return "does not parse"
	}
	out := strconv.Itoa(s.from)
	if s.from < 10 && !s.long {
		out = "0" + out
	}
	if s.to != s.from {
		out += "-" + strconv.Itoa(s.to)
	}
	return out
}

// onCucurbits tells whether both ends are stages that the scale of cucurbits
// has: it has no principal stages 3 and 4 (feller-1995).
func (s stages) onCucurbits() bool {
	for _, code := range []int{s.from, s.to} {
		if p := s.principal(code); p == 3 || p == 4 {
			return false
		}
	}
	return s.ok
}
