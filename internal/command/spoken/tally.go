package spoken

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"oidium/internal/ledger"
)

// The words for counting leaves plant by plant.
//
//	word    = [plant ":"] counts | marks ":" | times "x" counts | "-"
//	counts  = one { "," one }           ages of one plant
//	one     = infected ["+" infected] ["/" inspected] [["/"] marks]
//	marks   = letters: y m o the age, u l the face (l is an l, not a one)
//
// One word is one plant; plants are numbered as they come, or from the number
// before the colon on. "1/5" is one leaf with mildew among five; "0+1/5" counts
// both faces of the same five leaves, upper first. What a word leaves out holds
// on from the word before: age and face from the last word of marks ("yl:"; at
// the beginning old leaves, upper face), the number of leaves from the last "/".
// With both faces in the marks ("oul:") a plain 0 means neither. "12x0/5" is twelve
// plants alike, "-" a plant that was passed over.

const (
	ageLetters  = "ymo"
	faceLetters = "ul"
)

var (
	ageWords  = map[byte]string{'y': "young", 'm': "middle", 'o': "old"}
	faceWords = map[byte]string{'u': "upper", 'l': "lower"}
)

// marks are an age and one or both faces.
type marks struct {
	age  byte
	face string // "u", "l" or "ul"
}

// Counter reads the words of one tally, one after the other.
type Counter struct {
	Plant  int // that comes next
	Counts []ledger.Count

	marks
	of int // leaves looked at, -1 until stated
}

// NewCounter begins a tally at plant 1, old leaves, upper face.
func NewCounter() *Counter { return &Counter{marks: marks{'o', "u"}, of: -1, Plant: 1} }

// Hold sets what a word that leaves it out means: the age (young, middle, old),
// the face (upper, lower, both), the number of leaves.
func (c *Counter) Hold(age, face string, leaves int) {
	f, ok := map[string]string{"upper": "u", "lower": "l", "both": "ul"}[face]
	if !ok || age == "" {
		return
	}
	c.marks, c.of = marks{age[0], f}, leaves
}

// mostCounts is how many counts one tally may hold.
const mostCounts = 5000

// Tally reads the words of a tally.
func Tally(words []string) ([]ledger.Count, error) {
	c := NewCounter()
	for _, w := range words {
		if err := c.Word(w); err != nil {
			return nil, err
		}
	}
	if len(c.Counts) == 0 {
		return nil, fmt.Errorf("no leaf is counted; write for example 0/5 0/5 1/5")
	}
	return c.Counts, nil
}

// Word takes one word: a plant, marks, or plants alike.
func (c *Counter) Word(w string) error {
	low := strings.ToLower(w)
	if low == "-" {
		c.Plant++
		return nil
	}
	if m, ok := strings.CutSuffix(low, ":"); ok && m != "" && strings.Trim(m, ageLetters+faceLetters) == "" {
		var err error
		c.marks, err = c.marks.with(m)
		return err
	}
	plant, rest, ok := strings.Cut(low, ":")
	if ok {
		n, err := strconv.Atoi(plant)
		if err != nil || n < 1 {
			return fmt.Errorf("%q: %q is not the number of a plant", w, plant)
		}
		c.Plant, low = n, rest
	}
	times := 1
	if n, rest, ok := strings.Cut(low, "x"); ok {
		var err error
		if times, err = strconv.Atoi(n); err != nil || times < 1 || times > mostCounts {
			return fmt.Errorf("%q: %q is not a number of plants; 12x0/5 is twelve plants alike", w, n)
		}
		low = rest
	}
	for range times {
		for _, one := range strings.Split(low, ",") {
			if err := c.one(one); err != nil {
				return fmt.Errorf("%q: %w", w, err)
			}
		}
		c.Plant++
		if len(c.Counts) > mostCounts {
			return fmt.Errorf("%q: more than %d counts; split the tally", w, mostCounts)
		}
	}
	return nil
}

// with returns the marks changed by letters.
func (m marks) with(letters string) (marks, error) {
	face := ""
	seen := ""
	for i := range len(letters) {
		l := letters[i]
		switch {
		case strings.IndexByte(seen, l) >= 0:
			return m, fmt.Errorf("the mark %q is there twice", string(l))
		case strings.IndexByte(ageLetters, l) >= 0:
			if strings.ContainsAny(seen, ageLetters) {
				return m, fmt.Errorf("%q names two ages; one plant's ages are parted by commas, such as 0/5o,1/3y", letters)
			}
			m.age = l
		case strings.IndexByte(faceLetters, l) >= 0:
			face += string(l)
		default:
			return m, fmt.Errorf("%q is not a mark; y m o are the ages young, middle, old, u l the upper and lower face", string(l))
		}
		seen += string(l)
	}
	switch face {
	case "":
	case "lu":
		m.face = "ul"
	default:
		m.face = face
	}
	return m, nil
}

// one reads the counts of one age of the plant.
func (c *Counter) one(s string) error {
	if !strings.ContainsAny(s, "0123456789") {
		return fmt.Errorf("%q is not a number of leaves; one leaf with mildew among five is 1/5, both faces 0+1/5", s)
	}
	end := strings.IndexFunc(s, func(r rune) bool { return r >= 'a' && r <= 'z' })
	m := c.marks
	if end >= 0 {
		var err error
		if m, err = c.marks.with(s[end:]); err != nil {
			return err
		}
		s = strings.TrimSuffix(s[:end], "/")
	}
	nums, of, ok := strings.Cut(s, "/")
	if ok {
		n, err := Whole(of)
		if err != nil {
			return err
		}
		c.of = n
	}
	if c.of < 0 {
		return fmt.Errorf("of how many leaves? Write 0/5 for none of five")
	}
	parts := strings.Split(nums, "+")
	found := make([]int, len(parts))
	for i, p := range parts {
		n, err := Whole(p)
		if err != nil {
			return err
		}
		if n > c.of {
			return fmt.Errorf("%d leaves with mildew among %d looked at; the leaves with mildew come first, as in 1/5", n, c.of)
		}
		found[i] = n
	}
	switch {
	case len(found) > 2:
		return fmt.Errorf("a leaf has two faces; write upper+lower, such as 0+1/5")
	case len(found) == 2:
		m.face = "ul"
	case m.face == "ul" && found[0] == 0:
		found = []int{0, 0}
	case m.face == "ul":
		return fmt.Errorf("on which face? Write upper+lower, such as %d+0", found[0])
	}
	for i, n := range found {
		c.Counts = append(c.Counts, ledger.Count{
			Plant: c.Plant, Age: ageWords[m.age], Face: faceWords[m.face[i]], Inspected: c.of, Infected: n,
		})
	}
	return nil
}

// Whole reads a number of leaves.
func Whole(s string) (int, error) {
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 || s[0] == '+' {
		if strings.ContainsAny(s, ".") {
			return 0, fmt.Errorf("%q is not a whole number of leaves", s)
		}
		return 0, fmt.Errorf("%q is not a number of leaves; one leaf with mildew among five is 1/5, both faces 0+1/5", s)
	}
	return n, nil
}

// Words writes counts in the words that [Tally] reads. Counts of one
// plant that stand together make one word.
func Words(counts []ledger.Count) []string {
	age := byte('o')
	var out []string
	if len(counts) > 0 && sameAge(counts) {
		if a := counts[0].Age[0]; a != age {
			age = a
			out = append(out, string(a)+":")
		}
	}
	next, last, times := 1, "", 0
	flush := func() {
		switch {
		case times > 1:
			out = append(out, strconv.Itoa(times)+"x"+last)
		case times == 1:
			out = append(out, last)
		}
		times = 0
	}
	for i := 0; i < len(counts); {
		plant := counts[i].Plant
		j := i
		for j < len(counts) && counts[j].Plant == plant {
			j++
		}
		w := plantWord(counts[i:j], age)
		if plant != next {
			flush()
			last, times = strconv.Itoa(plant)+":"+w, 1
			flush()
			last = ""
		} else if w == last && times > 0 {
			times++
		} else {
			flush()
			last, times = w, 1
		}
		next = plant + 1
		i = j
	}
	flush()
	return out
}

func sameAge(counts []ledger.Count) bool {
	return !slices.ContainsFunc(counts, func(c ledger.Count) bool { return c.Age != counts[0].Age })
}

// plantWord is the word of one plant.
func plantWord(counts []ledger.Count, age byte) string {
	var parts []string
	for i := 0; i < len(counts); i++ {
		c := counts[i]
		s := strconv.Itoa(c.Infected)
		tail := ""
		if c.Age[0] != age {
			tail = c.Age[:1]
		}
		if i+1 < len(counts) {
			n := counts[i+1]
			if c.Face == "upper" && n.Face == "lower" && n.Age == c.Age && n.Inspected == c.Inspected {
				parts = append(parts, s+"+"+strconv.Itoa(n.Infected)+"/"+strconv.Itoa(c.Inspected)+tail)
				i++
				continue
			}
		}
		if c.Face == "lower" {
			tail += "l"
		}
		parts = append(parts, s+"/"+strconv.Itoa(c.Inspected)+tail)
	}
	return strings.Join(parts, ",")
}

// Help tells the words for counting leaves, for the help of the command line.
const Help = `A tally is typed plant by plant, one word a plant:

  1/5        one leaf with mildew among five looked at
  0+1/5      the same five leaves on both sides: none above, one below
  0/5 0 2    the number of leaves holds on until another is given
  12x0/5     twelve plants alike
  -          a plant passed over
  7:1/5      the seventh plant; the next is the eighth
  1/5y       with the age: y young, m middle, o old; and the face: u upper, l lower
  yl:        from here on young leaves, lower face; at the beginning old, upper
  oul:       from here on old leaves, both faces; a plain 0 is then 0+0
  0/5o,1/3y  two ages of one plant

So ten plants, five old leaves each, both sides, two of them with a leaf below:

  oul: 4x0/5 0+1 0+2 4x0
`
