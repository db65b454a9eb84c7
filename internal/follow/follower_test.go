// SPDX-License-Identifier: Apache-2.0

package follow

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	"boardhand/internal/photo"
)

// away is a camera that stays away, comes back with a broken picture, goes
// away again, and is switched off.
type away struct{ looks int }

// Look fails.
func (a *away) Look(context.Context) (photo.Picture, error) {
	switch a.looks++; {
	case a.looks > 9:
		return photo.Picture{}, io.EOF
	case a.looks == 5:
		return photo.Picture{Name: "picture_00001"}, errors.New("picture_00001: not a picture")
	}
	return photo.Picture{}, errors.New("the camera broke")
}

func TestCameraAwayIsToldOnce(t *testing.T) {
	f, told := following(t, "")
	err := f.Run(t.Context(), &away{})
	const want = "the camera broke\npicture_00001: not a picture\nthe camera broke"
	if got := strings.Join(told.failures, "\n"); got != want {
		t.Errorf("said\n%s\nwant\n%s", got, want)
	}
	if err == nil || !strings.Contains(err.Error(), "3 of 3 pictures could not be read") {
		t.Errorf("in the end: %v", err)
	}
}
