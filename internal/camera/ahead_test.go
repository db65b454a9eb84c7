// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"

	"boardhand/internal/photo"
)

// Whatever is unpacked ahead, pictures and errors come as the folder delivers them.
func TestAhead(t *testing.T) {
	dir := t.TempDir()
	ok := picture(t, true)
	for k := range 9 {
		data := ok
		if k%4 == 2 {
			data = ok[:len(ok)/2]
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%d.jpg", k)), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	open := func() *Folder {
		f, err := OpenFolder(dir)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	for most := range 12 {
		alone, ahead := open(), NewAhead(open(), most, func(p photo.Picture) photo.Picture {
			p.Name += " prepared"
			return p
		})
		for {
			want, wantErr := alone.Look(context.Background())
			got, err := ahead.Look(context.Background())
			if fmt.Sprint(err) != fmt.Sprint(wantErr) || err == nil && got.Name != want.Name+" prepared" {
				t.Fatalf("%d ahead: %q %v, the folder says %q %v", most, got.Name, err, want.Name, wantErr)
			}
			if errors.Is(err, io.EOF) {
				break
			}
		}
	}
}

// Whoever does not want to wait any more need not.
func TestAheadGivesUp(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "a.jpg"), picture(t, true), 0o600); err != nil {
		t.Fatal(err)
	}
	f, err := OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	release := make(chan struct{})
	a := NewAhead(f, 1, func(p photo.Picture) photo.Picture {
		cancel()
		<-release
		return p
	})
	if _, err := a.Look(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("given up, it says %v", err)
	}
	close(release)
}
