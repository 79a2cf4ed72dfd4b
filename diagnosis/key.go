package diagnosis

import (
	"bytes"
	_ "embed" // the key
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"

	"oidium/cite"
)

var (
	//go:embed data/questions.csv
	questionsCSV []byte
	//go:embed data/answers.csv
	answersCSV []byte
	//go:embed data/outcomes.csv
	outcomesCSV []byte
)

// Question is one question of the key with the answers that fit the plant.
type Question struct {
	ID, Text string
	Help     string // how to look, "" where nothing need be said
	Answers  []Answer
}

// Answer is one answer to a question.
type Answer struct {
	ID, Text string

	to    string      // question or outcome it leads to
	hosts []string    // crops or families it is for; empty: all; "*": all the others
	sets  [][2]string // fields of the record it settles
	cap   string      // the surest that an outcome may be after it
}

// Outcome is an end of the key.
type Outcome struct {
	ID      string
	Name    string // what it is, in a few words
	Verdict string // "powdery mildew", "downy mildew", "not a disease", "another disease", "mites or insects", "cannot tell"
	Sure    string // "sure", "likely", "cannot tell"
	Text    string // why, in one sentence
	Next    string // what to look at next
	Photo   string // which photo to take next
	Source  string // id in the register
	Grade   cite.Grade

	hosts []string
	firm  bool // seen with the lens: no earlier doubt lessens it
}

// Opens tells whether treatment against powdery mildew may be thought of at all.
// It never is when the key cannot tell, or tells of something else.
func (o Outcome) Opens() bool {
	return o.Verdict == "powdery mildew" && (o.Sure == "sure" || o.Sure == "likely")
}

// key is the whole key.
type key struct {
	questions []Question
	outcomes  []Outcome
	err       error
}

// theKey reads the tables once. They are part of the program; a test holds them
// whole.
var theKey = sync.OnceValue(func() key {
	k, err := read(bytes.NewReader(questionsCSV), bytes.NewReader(answersCSV), bytes.NewReader(outcomesCSV))
	k.err = err
	return k
})

// surenesses are from least to most.
var surenesses = []string{"cannot tell", "likely", "sure"}

func less(a, b string) string {
	return surenesses[min(slices.Index(surenesses, a), slices.Index(surenesses, b))]
}

// verdicts are those a diagnosis entry may hold.
var verdicts = []string{"powdery mildew", "downy mildew", "not a disease", "another disease", "mites or insects", "cannot tell"}

// read reads the three tables. It is strict: an answer that leads nowhere, a
// question without answers, an unknown verdict or source is an error that names
// the row.
func read(questions, answers, outcomes io.Reader) (key, error) {
	var k key
	err := rows(questions, "questions", 3, func(r []string) error {
		k.questions = append(k.questions, Question{ID: r[0], Text: r[1], Help: r[2]})
		return nil
	})
	if err != nil {
		return key{}, err
	}
	err = rows(outcomes, "outcomes", 11, func(r []string) error {
		o := Outcome{
			ID: r[0], hosts: strings.Fields(r[1]), Verdict: r[2], Sure: r[3], firm: r[4] == "yes",
			Name: r[5], Text: r[6], Next: r[7], Photo: r[8], Source: r[9], Grade: cite.Grade(r[10]),
		}
		switch _, known := cite.Lookup(o.Source); {
		case !known:
			return fmt.Errorf("the source %q is not in the register", o.Source)
		case !slices.Contains(verdicts, o.Verdict) || !slices.Contains(surenesses, o.Sure):
			return fmt.Errorf("no verdict %q that is %q", o.Verdict, o.Sure)
		case (o.Verdict == "cannot tell") != (o.Sure == "cannot tell"):
			return fmt.Errorf("the verdict %q cannot be %q", o.Verdict, o.Sure)
		}
		k.outcomes = append(k.outcomes, o)
		return nil
	})
	if err != nil {
		return key{}, err
	}
	err = rows(answers, "answers", 7, func(r []string) error {
		a := Answer{ID: r[1], Text: r[2], to: r[3], hosts: strings.Fields(r[4]), cap: r[6]}
		for _, s := range strings.Fields(r[5]) {
			name, value, ok := strings.Cut(s, "=")
			if !ok {
				return fmt.Errorf("%q settles no field", s)
			}
			a.sets = append(a.sets, [2]string{name, value})
		}
		q := k.question(r[0])
		switch {
		case q == nil:
			return fmt.Errorf("no question %q", r[0])
		case k.question(a.to) == nil && !k.ends(a.to):
			return fmt.Errorf("the answer leads to %q, which is neither question nor outcome", a.to)
		case a.cap != "" && !slices.Contains(surenesses, a.cap):
			return fmt.Errorf("nothing is %q", a.cap)
		}
		q.Answers = append(q.Answers, a)
		return nil
	})
	if err != nil {
		return key{}, err
	}
	for _, q := range k.questions {
		if len(q.Answers) < 2 {
			return key{}, fmt.Errorf("reading the key: question %q has fewer than two answers", q.ID)
		}
	}
	return k, nil
}

// rows calls row for each line of a table with a header and n columns.
func rows(r io.Reader, table string, n int, row func([]string) error) error {
	all, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return fmt.Errorf("reading the table of %s of the key: %w", table, err)
	}
	for i, line := range all {
		if len(line) != n {
			return fmt.Errorf("reading the table of %s of the key, line %d: %d columns, not %d", table, i+1, len(line), n)
		}
		if i == 0 {
			continue
		}
		if err := row(line); err != nil {
			return fmt.Errorf("reading the table of %s of the key, row %d (%s): %w", table, i, line[0], err)
		}
	}
	return nil
}

func (k *key) question(id string) *Question {
	i := slices.IndexFunc(k.questions, func(q Question) bool { return q.ID == id })
	if i < 0 {
		return nil
	}
	return &k.questions[i]
}

func (k *key) ends(id string) bool {
	return slices.ContainsFunc(k.outcomes, func(o Outcome) bool { return o.ID == id })
}
