package check

import (
	"fmt"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var mdLink = regexp.MustCompile(`\]\(([^)\s]+)\)`)

// links finds relative links of the Markdown files that lead nowhere.
func links(t *tree) []finding {
	var found []finding
	for _, name := range t.files {
		if path.Ext(name) != ".md" {
			continue
		}
		b, err := t.read(name)
		if err != nil {
			found = append(found, finding{file: name, text: err.Error()})
			continue
		}
		for i, line := range strings.Split(string(b), "\n") {
			for _, m := range mdLink.FindAllStringSubmatch(line, -1) {
				to, _, _ := strings.Cut(m[1], "#")
				if to == "" || strings.Contains(to, "://") || strings.HasPrefix(to, "mailto:") {
					continue
				}
				if _, err := os.Stat(filepath.Join(t.root, filepath.FromSlash(path.Join(path.Dir(name), to)))); err != nil {
					found = append(found, finding{file: name, line: i + 1, text: "the link to " + m[1] + " leads nowhere"})
				}
			}
		}
	}
	return found
}

// shown is a command line shown in a Markdown file.
type shown struct {
	file string
	line int
	args []string // after oidium
}

// commands returns the calls of the program in code blocks of Markdown files,
// as "oidium …" or "go run ./cmd/oidium …", prompt or not.
func commands(t *tree) ([]shown, error) {
	var out []shown
	for _, name := range t.files {
		if path.Ext(name) != ".md" {
			continue
		}
		b, err := t.read(name)
		if err != nil {
			return nil, err
		}
		block := false
		for i, line := range strings.Split(string(b), "\n") {
			if strings.HasPrefix(strings.TrimSpace(line), "```") {
				block = !block
				continue
			}
			if !block {
				continue
			}
			line, _, _ = strings.Cut(line, " #")
			for _, part := range regexp.MustCompile(`[|;]|&&`).Split(line, -1) {
				words := strings.Fields(strings.TrimPrefix(strings.TrimSpace(part), "$ "))
				for len(words) > 0 && strings.Contains(words[0], "=") {
					words = words[1:] // environment
				}
				switch {
				case len(words) > 0 && path.Base(words[0]) == "oidium":
					out = append(out, shown{name, i + 1, words[1:]})
				case len(words) > 2 && words[0] == "go" && words[1] == "run" && words[2] == "./cmd/oidium":
					out = append(out, shown{name, i + 1, words[3:]})
				}
			}
		}
	}
	return out, nil
}

var plainWord = regexp.MustCompile(`^[a-z][a-z-]*$`)

// TestShownCommands asks the program itself for help on every command that a
// Markdown file shows, and looks for the flags shown there.
func TestShownCommands(t *testing.T) {
	tr := own(t)
	list, err := commands(tr)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) == 0 {
		t.Fatal("README.md shows no command")
	}
	program := filepath.Join(t.TempDir(), "oidium")
	build := exec.Command("go", "build", "-buildvcs=false", "-o", program, "./cmd/oidium")
	build.Dir = tr.root
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("building the program: %v\n%s", err, out)
	}
	help := make(map[string]string)
	for _, s := range list {
		where := fmt.Sprintf("%s:%d", s.file, s.line)
		var sub []string // longest row of plain words that the program takes for a command
		for _, a := range s.args {
			if !plainWord.MatchString(a) {
				break
			}
			key := strings.Join(append(sub[:len(sub):len(sub)], a), " ")
			if _, ok := help[key]; !ok {
				out, err := exec.Command(program, append(strings.Fields(key), "--help")...).CombinedOutput()
				if err == nil && strings.Contains(string(out), "oidium "+key) {
					help[key] = string(out)
				} else {
					help[key] = ""
				}
			}
			if help[key] == "" {
				break
			}
			sub = append(sub, a)
		}
		if len(sub) == 0 {
			if len(s.args) > 0 && !strings.HasPrefix(s.args[0], "-") {
				t.Errorf("%s: the program has no command %q", where, s.args[0])
			}
			continue
		}
		text := help[strings.Join(sub, " ")]
		for _, a := range s.args[len(sub):] {
			name, _, _ := strings.Cut(a, "=")
			if strings.HasPrefix(name, "--") && !strings.Contains(text, name) {
				t.Errorf("%s: oidium %s has no flag %s", where, strings.Join(sub, " "), name)
			}
		}
	}
}

// TestReadme checks that the first page gives the two commands of set-up.
func TestReadme(t *testing.T) {
	b, err := own(t).read("README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"go run ./cmd/oidium demo", "go test ./..."} {
		if !strings.Contains(string(b), want) {
			t.Errorf("README.md does not show %q", want)
		}
	}
}

func TestLinks(t *testing.T) { report(t, links(own(t))) }
