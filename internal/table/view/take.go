// SPDX-License-Identifier: Apache-2.0

package view

import (
	"context"

	"boardhand/internal/photo"
)

// Take glances at a picture that came by another way than Look; what single places of
// it show can be asked for then.
func (v *View) Take(ctx context.Context, pic photo.Picture) error {
	r, err := v.Witness.Glance(ctx, pic)
	if err == nil {
		v.see(pic, r)
	}
	return err
}
