// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"testing"
)

// BenchmarkReading times the parts of a reading on a rendered game, decoding
// left out: hand is a clear hand, settled a picture with nothing new, first
// the first picture of a game (the board is found and everything learnt).
func BenchmarkReading(b *testing.B) {
	s, err := readScene("testdata/games/plastic")
	if err != nil {
		b.Fatal(err)
	}
	read := func(b *testing.B, r *Reader, k int) Reading {
		p := s.picture(b, k)
		if p.Image, err = decode(p); err != nil {
			b.Fatal(err)
		}
		b.StartTimer()
		got, err := r.Read(context.Background(), p)
		b.StopTimer()
		if err != nil {
			b.Fatal(err)
		}
		return got
	}
	fresh := func() *Reader {
		r := NewReader(s.setup)
		r.Begin(s.start)
		return r
	}
	kinds := map[State]int{}
	for k := len(s.frames) - 1; k > 0; k-- {
		kinds[s.frames[k].State] = k // the earliest of each
	}
	b.Run("first", func(b *testing.B) {
		b.StopTimer()
		for range b.N {
			read(b, fresh(), 0)
		}
	})
	for _, state := range []State{Same, Moved, Hand} {
		b.Run(string(state), func(b *testing.B) {
			r := fresh()
			read(b, r, 0)
			b.ResetTimer()
			b.StopTimer()
			k := kinds[state]
			if state == Same {
				k = 0
			}
			for range b.N {
				r.static, r.stall = staticObject{}, stall{} // or a hand that never moves is taken for a thing, or doubted
				if got := read(b, r, k); got.State != state && state != Moved {
					b.Fatalf("picture %d was read as %s", k, got.State)
				}
			}
		})
	}
}
