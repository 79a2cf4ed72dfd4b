package ledger

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"time"

	"oidium/garden"
)

// version is the version of the lines this program writes and understands. A
// line with a higher one was written by a newer program: it is kept as it is,
// shown, and not interpreted.
const version = 1

// Entry is one line of the ledger.
type Entry struct {
	ID       garden.EntryID // UUIDv7, made where the entry was written
	Kind     string
	V        int
	Time     time.Time // that it speaks of
	Written  time.Time // when it was written, by the clock of the device
	Who      string
	Device   string
	Bed      garden.BedID
	Replaces garden.EntryID // the entry this one corrects
	// Body points to the body type of the kind, such as *Tally; it is nil when
	// the line was written by a newer program. Bodies are not to be changed.
	Body Body

	// FromLine is the number of the line in the file it was read from, 0 when it
	// did not come from one. It is not part of what the entry says.
	FromLine int
	// Blanked tells that personal fields or the picture were taken out.
	Blanked bool

	line      []byte            // canonical, without the end of line
	sum, open [sha256.Size]byte // of what it says, and of the open part
}

// Line returns the entry as one line of JSON, without the end of line: for
// known kinds the envelope in the order of [Head], then the body by RFC 8785;
// for an entry of a newer program the line as it came.
func (e Entry) Line() []byte { return bytes.Clone(e.line) }

// newer tells whether the entry was written by a newer program and could not be
// interpreted.
func (e Entry) newer() bool { return e.Body == nil }

// Known tells whether the entry may be used at the instant asOf: neither the
// time it speaks of nor the time it was written is later. A forecast counts by
// its time of issue too.
func (e Entry) Known(asOf time.Time) bool {
	if f, ok := e.Body.(*Forecast); ok && f.Issued.After(asOf) {
		return false
	}
	return !e.Time.After(asOf) && !e.Written.After(asOf)
}

// Head is the envelope of a line.
type Head struct {
	ID       string `json:"id" doc:"id of the entry, a UUID of version 7 made where it was written" rule:"required;uuid"`
	Kind     string `json:"kind" doc:"what the entry is about" rule:"required"`
	V        int    `json:"v" doc:"version of the line, now 1" rule:"required;min=1"`
	Time     string `json:"time" doc:"the time the entry speaks of, with zone" rule:"required"`
	Written  string `json:"written" doc:"when it was written, with zone; nothing restamps it" rule:"required"`
	Who      string `json:"who,omitempty" doc:"who did it" rule:"len=200;personal"`
	Device   string `json:"device,omitempty" doc:"which device wrote it" rule:"len=200"`
	Bed      string `json:"bed,omitempty" doc:"id of the bed, made by the user" rule:"word"`
	Replaces string `json:"replaces,omitempty" doc:"id of the entry that this one corrects" rule:"uuid"`
	Blanked  bool   `json:"blanked,omitempty" doc:"true: personal fields or the picture were taken out of this entry"`
}

// Compose makes an entry from its parts, checked as a line that was read would
// be. Head.V 0 means the present version.
func Compose(h Head, body Body, known Vocabulary) (Entry, error) {
	if h.V == 0 {
		h.V = version
	}
	line, err := json.Marshal(struct {
		Head
		Body Body `json:"body"`
	}{h, body})
	if err != nil {
		return Entry{}, fmt.Errorf("composing a %s: %w", h.Kind, err)
	}
	return ParseLine(line, known)
}

const idHint = "an id is a UUID of version 7 in lower case, made once where the entry is written"

// badID says what is wrong with an id, "" if nothing: RFC 9562, version 7.
func badID(s string) string {
	if len(s) != 36 || s[8] != '-' || s[13] != '-' || s[18] != '-' || s[23] != '-' {
		return fmt.Sprintf("%.60q is not a UUID", s)
	}
	for i := range len(s) {
		c := s[i]
		if (c < '0' || c > '9') && (c < 'a' || c > 'f') && c != '-' || c == '-' && i != 8 && i != 13 && i != 18 && i != 23 {
			return fmt.Sprintf("%q is not a UUID in lower case", s)
		}
	}
	if s[14] != '7' || s[19] != '8' && s[19] != '9' && s[19] != 'a' && s[19] != 'b' {
		return fmt.Sprintf("%q is a UUID, but not of version 7", s)
	}
	return ""
}
