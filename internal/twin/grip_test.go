package twin

import "testing"

// A man whom the hand sets straight while the carriage travels was not dragged
// by it; one who slid by himself was.
func TestHandDuringAStrokeIsNoDrag(t *testing.T) {
	w := worldOf(t, small(), kings)
	w.beginStroke()
	b := w.men[0]
	b.at = b.at.Add(spot{X: 0.005})
	w.stand(b)
	w.endStroke()
	if n := w.count.Drags; n != 0 {
		t.Errorf("%d drags: the hand moved him", n)
	}
	w.beginStroke()
	w.stand(b)
	b.at = b.at.Add(spot{X: 0.002})
	w.endStroke()
	if n := w.count.Drags; n != 1 {
		t.Errorf("%d drags of the man who moved after the hand had left him, want 1", n)
	}
}
