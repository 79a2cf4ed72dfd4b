package work

// CopiedVersion names the shape of [Copied].
const CopiedVersion = "oidium-copied-1"

// Copied is a copy of the book that was written and checked.
type Copied struct {
	Version string `json:"version" enum:"oidium-copied-1" doc:"shape of this document"`
	From    string `json:"from" doc:"file it was made from"`
	To      string `json:"to" doc:"file that was written"`
	Entries int    `json:"entries"`
	Chain   string `json:"chain,omitempty" doc:"end of the chain of the copy; absent for an export"`
}

// BlankedVersion names the shape of [Blanked].
const BlankedVersion = "oidium-blanked-1"

// Blanked is what was, or would be, taken out of entries.
type Blanked struct {
	Version string   `json:"version" enum:"oidium-blanked-1" doc:"shape of this document"`
	Done    bool     `json:"done" doc:"false: it was only said what would be taken out"`
	What    string   `json:"what" enum:"person,photo"`
	Entries []string `json:"entries" doc:"ids"`
}
