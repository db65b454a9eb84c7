// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"context"
	"reflect"
	"testing"
)

// A prepared picture is read as it would be otherwise, to the last bit.
func TestPrepared(t *testing.T) {
	s, err := readScene("testdata/games/mitres")
	if err != nil {
		t.Fatal(err)
	}
	read := func(isPrepared bool) (out []Reading) {
		r := NewReader(s.setup)
		r.Begin(s.start)
		for k := range s.frames {
			p := s.picture(t, k)
			if p.Image, err = decode(p); err != nil {
				t.Fatal(err)
			}
			if isPrepared {
				if p = r.Preparer().Prepare(p); (p.Prepared != nil) != (k > 0) {
					t.Errorf("picture %d is prepared: %v", k, p.Prepared != nil)
				}
			}
			got, err := r.Read(context.Background(), p)
			if err != nil {
				t.Fatal(err)
			}
			if isPrepared && k > 0 && any(r.last.raw) != p.Prepared {
				t.Errorf("picture %d was reduced again", k)
			}
			if got.State == Moved {
				if err := r.Accept(got.Move); err != nil {
					t.Fatal(err)
				}
			}
			out = append(out, got)
		}
		return out
	}
	if a, b := read(false), read(true); !reflect.DeepEqual(a, b) {
		t.Errorf("read as\n%+v\nprepared as\n%+v", a, b)
	}
}
