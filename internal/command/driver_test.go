package command_test

import (
	"bytes"
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"oidium/internal/ledger"
)

// The driver that the project publishes takes the program through 60 days from
// outside. Its truth is a logistic curve of its own, which the program meets only
// in the tallies; every line it writes obeys the published schema.
func TestDriverDrives60Days(t *testing.T) {
	if testing.Short() {
		t.Skip("60 rounds; left to the run without -short")
	}
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("python3 is not on this machine, so the driver in docs/driver was not run; .ci/run installs it")
	}
	dir := t.TempDir()
	program, book := filepath.Join(dir, "oidium"), filepath.Join(dir, "driven.oidium")
	run(t, "go", "build", "-o", program, "oidium/cmd/oidium")
	out := run(t, python, filepath.Join("..", "..", "docs", "driver", "drive.py"), program, book, "60")

	lines := strings.Split(strings.TrimSpace(out), "\n")
	if len(lines) != 60 {
		t.Fatalf("%d mornings, want 60:\n%s", len(lines), out)
	}
	var days, inside, looks, treats int
	for _, l := range lines {
		var date, verdict, job string
		var mid, low, high, truth float64
		if _, err := fmt.Sscanf(l, "%s %s %s covered %f%% (%f%% to %f%%) in truth %f%%", &date, &verdict, &job, &mid, &low, &high, &truth); err != nil {
			t.Fatalf("line %q: %v", l, err)
		}
		if job == "look" {
			looks++
		}
		if job == "treat" || job == "remove" {
			treats++
		}
		if truth > 0.05 { // per cent // below that the printed digits decide
			days++
			if truth >= low/3 && truth <= high*3 {
				inside++
			}
		}
	}
	// One course of one season proves no calibration (package belief tests that);
	// but the forecast must follow what was seen.
	if days < 15 || float64(inside) < 0.8*float64(days) {
		t.Errorf("truth within a factor of three of the 80 %% band on %d of %d days:\n%s", inside, days, out)
	}
	if looks == 0 || treats == 0 {
		t.Errorf("%d looks and %d treatments in 60 days:\n%s", looks, treats, out)
	}

	validate(t, run(t, program, "ledger", "export", "--book", book))
}

// validate holds every line to the published schema.
func validate(t *testing.T, lines string) {
	t.Helper()
	b, err := ledger.Schema("")
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("entry.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("entry.json")
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range strings.Split(strings.TrimSpace(lines), "\n") {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(l))
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(v); err != nil {
			t.Errorf("line %d: %v", i+1, err)
		}
	}
}

func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = &out, &errs
	if err := cmd.Run(); err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, errs.String())
	}
	return out.String()
}
