package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"
)

// event is one line of go test -json, as cmd/test2json documents it. Lines of
// the builder carry ImportPath instead of Package.
type event struct {
	Action  string
	Package string
	Test    string
	Output  string
}

// counts are tests by outcome, subtests left out.
type counts struct{ passed, failed, skipped int }

// summary gathers what the events say.
type summary struct {
	total  counts
	broken bool // a package failed, or a line was no event

	byPackage map[string]*counts
	cached    map[string]bool
	output    map[string][]string // of a test, by package and name
}

func main() {
	s := summary{byPackage: make(map[string]*counts), cached: make(map[string]bool), output: make(map[string][]string)}
	if err := s.read(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "suite: reading the events:", err)
		os.Exit(1)
	}
	fmt.Println(s.line())
	if !s.good() {
		os.Exit(1)
	}
}

// read takes events from r until its end and prints to w what a person wants to
// see of them.
func (s *summary) read(r io.Reader, w io.Writer) error {
	in := bufio.NewReader(r)
	for {
		line, err := in.ReadString('\n')
		if strings.TrimSpace(line) != "" {
			var e event
			if json.Unmarshal([]byte(line), &e) == nil {
				s.take(e, w)
			} else {
				s.broken = true
				fmt.Fprint(w, line)
			}
		}
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
	}
	for pkg, c := range s.byPackage {
		if s.cached[pkg] {
			continue
		}
		s.total.passed += c.passed
		s.total.failed += c.failed
		s.total.skipped += c.skipped
	}
	return nil
}

func (s *summary) take(e event, w io.Writer) {
	key := e.Package + "\x00" + e.Test
	switch e.Action {
	case "build-output":
		fmt.Fprint(w, e.Output)
	case "output":
		if e.Test != "" {
			s.output[key] = append(s.output[key], e.Output)
			return
		}
		if strings.HasSuffix(e.Output, "(cached)\n") {
			s.cached[e.Package] = true
		}
		if e.Output != "PASS\n" {
			fmt.Fprint(w, e.Output)
		}
	case "pass", "fail", "skip":
		if e.Test == "" {
			s.broken = s.broken || e.Action == "fail"
			return
		}
		if e.Action == "fail" {
			for _, line := range s.output[key] {
				fmt.Fprint(w, line)
			}
		}
		delete(s.output, key)
		if strings.Contains(e.Test, "/") {
			return
		}
		c := s.byPackage[e.Package]
		if c == nil {
			c = new(counts)
			s.byPackage[e.Package] = c
		}
		switch e.Action {
		case "pass":
			c.passed++
		case "fail":
			c.failed++
		default:
			c.skipped++
		}
	}
}

func (s *summary) line() string {
	return fmt.Sprintf("%d passed, %d failed, %d skipped", s.total.passed, s.total.failed, s.total.skipped)
}

func (s *summary) good() bool {
	return !s.broken && s.total.failed == 0 && s.total.passed > 0
}
