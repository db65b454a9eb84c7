// SPDX-License-Identifier: Apache-2.0

package ranking

import (
	"context"
	"testing"

	"boardhand/internal/propose"
	"boardhand/internal/rig"
)

// A hundred thousand candidates of the example, and builds of the best fifty: the target is
// 15 s on two cores, 30 s of one.
func BenchmarkPropose100k(b *testing.B) {
	stock, err := propose.ParseStock("stock.toml", []byte(propose.ExampleText))
	if err != nil {
		b.Fatal(err)
	}
	space, err := propose.NewSpace(rig.Default(), stock)
	if err != nil {
		b.Fatal(err)
	}
	ctx := context.Background()
	for b.Loop() {
		found := space.Search(ctx, propose.Shard{From: 0, To: 100_000}, nil)
		r, err := Of(ctx, found, rig.DefaultText, Builds)
		if err != nil || len(r.Rigs) != drawn {
			b.Fatalf("builds of %d rigs: %v", len(r.Rigs), err)
		}
	}
}
