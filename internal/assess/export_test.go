// SPDX-License-Identifier: Apache-2.0

package assess

import "boardhand/internal/rig"

// Reach gives the four sides of a rig.
func Reach(r *rig.Rig) [4]Side { return newStudy(r, nil).sides() }
