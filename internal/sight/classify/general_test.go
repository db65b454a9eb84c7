// SPDX-License-Identifier: Apache-2.0

package classify

import (
	"math"
	"testing"

	"boardhand/internal/chess"
)

// Heads in general count in full wherever a kind has not been met, between kinds that have a
// quarter of it; the probabilities add up to 1.
func TestGeneral(t *testing.T) {
	among := []chess.Kind{chess.Queen, chess.Bishop, chess.Rook, chess.Knight}
	own := likeness{known: []Known{{kind: chess.Rook}, {kind: chess.Knight}}, share: 1}
	g := generalOf(nil, own, among)
	var says [chess.King + 1]float64
	says[chess.Queen], says[chess.Bishop], says[chess.Rook], says[chess.Knight] = 1, 3, 2, 0
	w := g.weigh(&says)
	if d := w[chess.Bishop] - w[chess.Queen]; math.Abs(d-2*headGain) > 1e-9 {
		t.Errorf("a bishop leads a queen by %.3f nats", d)
	}
	if d := w[chess.Rook] - w[chess.Knight]; math.Abs(d-2*headGain*metHeads) > 1e-9 {
		t.Errorf("a rook leads a knight, both met, by %.3f nats", d)
	}
	met := math.Exp(w[chess.Rook]) + math.Exp(w[chess.Knight])
	full := shares(&says, among, headGain)
	if want := math.Exp(full[chess.Rook]) + math.Exp(full[chess.Knight]); math.Abs(met-want) > 1e-9 {
		t.Errorf("a rook or a knight, both met, has %.4f; heads in full say %.4f", met, want)
	}
	sum := 0.0
	for _, k := range among {
		sum += math.Exp(w[k])
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("the probabilities add up to %g", sum)
	}
	if none := generalOf(nil, likeness{}, among); len(none.met) != 0 || none.full != headGain {
		t.Errorf("nothing has been met: %+v", none)
	}
}
