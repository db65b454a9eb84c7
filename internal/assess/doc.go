// SPDX-License-Identifier: Apache-2.0

// Package assess judges a rig before a part is bought: will the machine work,
// by how much, and what to change. It takes a rig and returns lines; it opens
// no files.
package assess

import "boardhand/internal/assess/line"

// The words of a judgement are those of package line.
type (
	// Check is one line of the judgement.
	Check = line.Check
	// Fix is a change that turns a line to pass.
	Fix = line.Fix
	// Setting is one key of the rig file with a value as a maker writes it.
	Setting = line.Setting
	// Verdict is the outcome of one line.
	Verdict = line.Verdict
)

// The three verdicts.
const (
	Pass = line.Pass
	Warn = line.Warn
	Fail = line.Fail
)

// Worst is the worst verdict of all lines but cautions.
func Worst(checks []Check) Verdict { return line.Worst(checks) }
