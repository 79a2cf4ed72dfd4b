package record

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
)

// shapes of EPPO codes: five letters for a plant (three of the genus, two of the
// species), six for a pest (four and two), 1 or 3 in front for higher taxa and
// groups of crops (eppo-codes-2011).
var shapes = regexp.MustCompile(`^([A-Z]{5}|[A-Z]{6}|[13][A-Z0-9]{4,5})$`)

func shaped(code string) bool { return shapes.MatchString(code) }

// confirmed are the codes that were found in an official text
// (eppo-codes-2011, eppo-pp1-4); every other is unverified until the official
// list has been read.
var confirmed = map[string]string{
	"PODOXA": "Podosphaera xanthii",
	"UNCINE": "Erysiphe necator",
	"VITVI":  "Vitis vinifera",
	"PLASVI": "Plasmopara viticola",
}

// confirmedCrop are the confirmed codes by crop of the program.
var confirmedCrop = map[string]string{"grape": "VITVI"}

// Codes is a list of EPPO codes with the names that go with them. The zero value
// knows the confirmed ones only.
type Codes struct{ names map[string]string }

// status says what is known of a code, in words.
func (c Codes) status(code string) string {
	switch {
	case c.names[code] != "":
		return "in the list that was read: " + c.names[code]
	case confirmed[code] != "":
		return "confirmed: " + confirmed[code]
	case !shaped(code):
		return "not the shape of an EPPO code"
	case len(c.names) > 0:
		return "not in the list that was read"
	}
	return "unverified: look it up in the official list"
}

// ReadCodes reads a table of codes as CSV with a heading, comma or semicolon
// between the columns, in UTF-8. One column must be called code (or eppocode),
// one name (or preferredname, fullname, scientificname). The layout of the
// official download is not known here; this was not tried on it.
func ReadCodes(r io.Reader) (Codes, error) {
	raw, err := io.ReadAll(r)
	if err != nil {
		return Codes{}, fmt.Errorf("reading EPPO codes: %w", err)
	}
	text := strings.TrimPrefix(string(raw), "\ufeff")
	heading, _, _ := strings.Cut(text, "\n")
	cr := csv.NewReader(strings.NewReader(text))
	if strings.Count(heading, ";") > strings.Count(heading, ",") {
		cr.Comma = ';'
	}
	rows, err := cr.ReadAll()
	if err != nil {
		return Codes{}, fmt.Errorf("reading EPPO codes: %w", err)
	}
	if len(rows) == 0 {
		return Codes{}, errors.New("reading EPPO codes: the file is empty")
	}
	code, name := -1, -1
	for i, h := range rows[0] {
		switch strings.NewReplacer(" ", "", "_", "").Replace(strings.ToLower(h)) {
		case "code", "eppocode":
			code = i
		case "name", "preferredname", "fullname", "scientificname":
			name = i
		}
	}
	if code < 0 || name < 0 {
		return Codes{}, errors.New("reading EPPO codes: no columns called code and name in the first line")
	}
	c := Codes{names: map[string]string{}}
	for i, row := range rows[1:] {
		k := strings.TrimSpace(row[code])
		if !shaped(k) {
			return Codes{}, fmt.Errorf("reading EPPO codes: row %d: %q does not have the shape of an EPPO code", i+2, k)
		}
		if have, ok := c.names[k]; ok && have != row[name] {
			return Codes{}, fmt.Errorf("reading EPPO codes: row %d: %s stands twice, for %q and %q", i+2, k, have, row[name])
		}
		c.names[k] = row[name]
	}
	return c, nil
}
