// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"testing"

	"boardhand/internal/photo"
)

// A camera that hangs is told of once, and again when it hangs again.
func TestFrozenCameraIsToldOnce(t *testing.T) {
	f, told := following(t, "")
	frames := 0
	for _, run := range []struct {
		jpeg  string
		times int
	}{{"a", frozenPictures - 1}, {"b", 3 * frozenPictures}, {"", 3 * frozenPictures}, {"b", frozenPictures}} {
		for range run.times {
			frames++
			if err := f.show(photo.Picture{Name: "f", JPEG: []byte(run.jpeg)}, reading("same")); err != nil {
				t.Fatal(err)
			}
		}
	}
	if len(told.frozen) != 2 || told.frozen[0] != frozenPictures || told.frozen[1] != frozenPictures {
		t.Errorf("told %v of %d pictures", told.frozen, frames)
	}
}
