// SPDX-License-Identifier: Apache-2.0

package mechanics

import "testing"

func must(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
