// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"strings"
	"testing"

	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
)

// The reader knows the pieces of chess, and says so of others.
func TestOtherPiecesAreRefused(t *testing.T) {
	r, err := rig.Parse("discs.toml", []byte(fixture.Discs(t)), rig.Watching)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := SetupFrom(r); err == nil || !strings.Contains(err.Error(), "the rig's are tall_disc, disc") {
		t.Error(err)
	}
}
