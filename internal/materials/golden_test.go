// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"
	"strings"
	"testing"

	"boardhand/internal/golden"
	"boardhand/internal/rig"
)

// The lists of the built-in rig as they are written, without their line ends.
func TestListsOfTheBuiltInRig(t *testing.T) {
	l := Of(rig.Default(), nil)
	var b strings.Builder
	for _, f := range l.Files() {
		if f.Name != "materials.csv" {
			fmt.Fprintf(&b, "# %s\n%s\n", f.Name, strings.ReplaceAll(f.Text, "\r\n", "\n"))
		}
	}
	fmt.Fprintf(&b, "# notes\n%s\n", strings.Join(l.Notes, "\n"))
	golden.Compare(t, "default.csv", b.String())
}
