package cite

// Grade says how a number was come by.
type Grade string

// The grades, from sure to unsure.
const (
	A    Grade = "A"    // read in the source itself
	B    Grade = "B"    // read in a secondary source
	C    Grade = "C"    // assumption, analogy or from memory; shown to the user as an assumption
	Calc Grade = "calc" // computed here from other values
)

// Words returns what the grade means, as the user reads it.
func (g Grade) Words() string {
	switch g {
	case A:
		return "read in the source"
	case B:
		return "from a secondary source"
	case C:
		return "assumption"
	case Calc:
		return "computed here"
	}
	return "unknown"
}

// Value is a constant with its origin. Lo and Hi bound what is thought possible;
// where they are equal to V the value is taken as exact.
type Value struct {
	V, Lo, Hi float64
	Unit      string // SI or a plain word; "1" for a ratio
	Source    string // id in the register
	Grade     Grade
	What      string // what the number is, in one line
}

// Source is one publication, law, data set or piece of trade practice.
type Source struct {
	ID   string `json:"id"`
	Text string `json:"text"`          // authors, year, title or journal, as far as known
	DOI  string `json:"doi,omitempty"` // without prefix
}
