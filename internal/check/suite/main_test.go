package main

import (
	"bytes"
	"strings"
	"testing"
)

func TestSummary(t *testing.T) {
	for _, c := range []struct {
		name, in, out, line string
		good                bool
	}{
		{
			name: "passes and skips",
			in: `{"Action":"run","Package":"a","Test":"TestX"}
{"Action":"output","Package":"a","Test":"TestX","Output":"=== RUN TestX\n"}
{"Action":"pass","Package":"a","Test":"TestX/sub"}
{"Action":"pass","Package":"a","Test":"TestX"}
{"Action":"skip","Package":"a","Test":"TestY"}
{"Action":"output","Package":"a","Output":"PASS\n"}
{"Action":"output","Package":"a","Output":"ok  \ta\t0.1s\n"}
{"Action":"pass","Package":"a"}
`,
			out: "ok  \ta\t0.1s\n", line: "1 passed, 0 failed, 1 skipped", good: true,
		},
		{
			name: "a failure shows its output",
			in: `{"Action":"pass","Package":"a","Test":"TestX"}
{"Action":"output","Package":"a","Test":"TestZ","Output":"    z_test.go:3: wrong\n"}
{"Action":"fail","Package":"a","Test":"TestZ"}
{"Action":"fail","Package":"a"}
`,
			out: "    z_test.go:3: wrong\n", line: "1 passed, 1 failed, 0 skipped",
		},
		{
			name: "a package that does not build",
			in: `{"ImportPath":"b","Action":"build-output","Output":"b.go:1: syntax\n"}
{"Action":"pass","Package":"a","Test":"TestX"}
{"Action":"fail","Package":"b","FailedBuild":"b"}
`,
			out: "b.go:1: syntax\n", line: "1 passed, 0 failed, 0 skipped",
		},
		{
			name: "a cached result does not count",
			in: `{"Action":"pass","Package":"a","Test":"TestX"}
{"Action":"output","Package":"a","Output":"ok  \ta\t(cached)\n"}
{"Action":"pass","Package":"a"}
`,
			out: "ok  \ta\t(cached)\n", line: "0 passed, 0 failed, 0 skipped",
		},
		{name: "nothing", line: "0 passed, 0 failed, 0 skipped"},
		{name: "no event", in: "go: something\n", out: "go: something\n", line: "0 passed, 0 failed, 0 skipped"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := summary{byPackage: make(map[string]*counts), cached: make(map[string]bool), output: make(map[string][]string)}
			var out bytes.Buffer
			if err := s.read(strings.NewReader(c.in), &out); err != nil {
				t.Fatal(err)
			}
			if out.String() != c.out || s.line() != c.line || s.good() != c.good {
				t.Errorf("got %q, %q, %v; want %q, %q, %v", out.String(), s.line(), s.good(), c.out, c.line, c.good)
			}
		})
	}
}
