package twin

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"boardhand/internal/notice"
	"boardhand/internal/rig"
)

// TWIN_PICTURES names a directory for pictures to look at.
func TestPicturesToLookAt(t *testing.T) {
	dir := os.Getenv("TWIN_PICTURES")
	if dir == "" {
		t.Skip("set TWIN_PICTURES to a directory to get pictures")
	}
	for seed := int64(1); seed <= 3; seed++ {
		w, err := New(rig.Default(), Options{Seed: seed})
		must(t, err)
		ctx := context.Background()
		must(t, w.Guest().Tell(ctx, notice.Notice{Kind: notice.YourMove}))
		for i := range 4 {
			p, err := w.Camera().Look(ctx)
			must(t, err)
			name := filepath.Join(dir, string([]byte{'s', byte('0' + seed), '-', byte('0' + i)})+".jpg")
			must(t, os.WriteFile(name, p.JPEG, 0o644))
		}
	}
}

func BenchmarkLookSettled(b *testing.B) {
	w, err := New(rig.Default(), Options{Seed: 1})
	must(b, err)
	_, err = w.Camera().Look(context.Background())
	must(b, err)
	for b.Loop() {
		_, err = w.Camera().Look(context.Background())
		must(b, err)
	}
}
