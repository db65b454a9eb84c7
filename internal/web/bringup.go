// SPDX-License-Identifier: Apache-2.0

package web

// BringUp is the first start of a machine, as its page shows it.
type BringUp struct {
	Now   string        `json:"now,omitzero"` // the step that is on, by its name
	Steps []BringUpStep `json:"steps"`
	// Count is how many parts of that step are done, of how many; Of 0: it has none.
	Count struct {
		Done int    `json:"done"`
		Of   int    `json:"of"`
		What string `json:"what"`
	} `json:"count,omitzero"`
	// Leave says that the question may be left, and its step with it, for later.
	Leave bool `json:"leave,omitzero"`
	// Hold is the outline in which a printed checkerboard is to be held, shares of the
	// picture's width and height from its upper left corner.
	Hold []Place `json:"hold,omitzero"`
	// Residuals counts the drawings of what is left at each place; 0: there is none.
	Residuals uint64 `json:"residuals,omitzero"`
	// Record says that there is something to write a record of.
	Record bool `json:"record,omitzero"`
}

// BringUpStep is one step with what it measured.
type BringUpStep struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"`
	Says    string   `json:"says"`           // what it is about
	Moves   string   `json:"moves,omitzero"` // what will move; "": nothing
	State   string   `json:"state"`          // "done", "now", "later" (it was left) or "" (it is to come)
	When    string   `json:"when,omitzero"`  // it was done, RFC 3339
	Note    string   `json:"note,omitzero"`  // what was noted then
	Figures []Figure `json:"figures,omitzero"`
}

// Figure is one that was measured, beside what was planned, with its unit's digits.
type Figure struct {
	What     string `json:"what"`
	Planned  string `json:"planned"`
	Measured string `json:"measured"`
	Sigma    string `json:"sigma,omitzero"` // standard deviation; "": not known
	Allowed  string `json:"allowed"`
	Unit     string `json:"unit,omitzero"`
	Off      bool   `json:"off,omitzero"`
	Cause    string `json:"cause,omitzero"` // why it is likely off, and what to do
}
