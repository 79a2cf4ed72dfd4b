package work

import (
	"time"

	"oidium/garden"
	"oidium/internal/ledger"
	"oidium/internal/store"
)

// Checked is what a look through the whole book found.
type Checked struct {
	Version  string           `json:"version" enum:"oidium-checked-1" doc:"shape of this document"`
	Sound    bool             `json:"sound" doc:"nothing in the file is damaged, changed or missing"`
	File     store.Report     `json:"file"`
	Warnings []garden.Warning `json:"warnings" doc:"entries that contradict each other, clocks that are off, entries that could not be used"`
	Newer    []Said           `json:"newer" doc:"entries written by a newer program: kept, passed on, not understood"`
}

// Checking puts together what the file says of itself and what its entries say.
// A file that is damaged may have no entries to look at.
func Checking(file store.Report, entries []ledger.Entry, now time.Time) (*Checked, error) {
	c := &Checked{Version: "oidium-checked-1", Sound: len(file.Problems) == 0, File: file, Warnings: []garden.Warning{}, Newer: []Said{}}
	if entries == nil {
		return c, nil
	}
	b, err := openBook(entries, now)
	if err != nil {
		return nil, err
	}
	c.Warnings = append(append(c.Warnings, ledger.Clocks(entries, now)...), b.garden.Warnings...)
	for _, e := range b.inOrder() {
		if e.Body == nil {
			c.Newer = append(c.Newer, b.said(e))
		}
		if b.state(e) == "holds" {
			for _, w := range doubts(b.garden, b.loc, e) {
				w.Text = e.Time.In(b.loc).Format("2006-01-02 15:04") + ", " + e.Kind + ": " + w.Text
				c.Warnings = append(c.Warnings, w)
			}
		}
	}
	return c, nil
}
