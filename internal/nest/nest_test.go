// SPDX-License-Identifier: Apache-2.0

package nest

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"boardhand/internal/unit"
)

// sound checks a layout by its places alone: all parts are there in their sizes,
// inside the sheet and its edge, a cut apart, and cut out by cuts from edge to edge.
func sound(t *testing.T, parts []Part, l Layout) {
	t.Helper()
	left := map[string]int{}
	size := map[string]Part{}
	for _, p := range parts {
		left[p.Name] += p.Count
		size[p.Name] = p
	}
	s := l.Sheet
	for _, sheet := range l.Sheets {
		if len(sheet) == 0 {
			t.Fatal("an empty sheet")
		}
		for i, p := range sheet {
			left[p.Name]--
			w, h := p.Width, p.Height
			if p.Turned {
				w, h = h, w
			}
			if q := size[p.Name]; w != q.Width || h != q.Height || p.Turned && q.Fixed {
				t.Fatalf("%+v is not %+v", p, q)
			}
			if p.X < s.Edge-slack || p.Y < s.Edge-slack || p.X+p.Width > s.Width-s.Edge+slack || p.Y+p.Height > s.Height-s.Edge+slack {
				t.Fatalf("%+v lies outside %+v", p, s)
			}
			for _, q := range sheet[:i] {
				apart := max(p.X-q.X-q.Width, q.X-p.X-p.Width, p.Y-q.Y-q.Height, q.Y-p.Y-p.Height)
				if apart < s.Kerf-slack {
					t.Fatalf("%+v and %+v are %v apart, a cut is %v", p, q, apart, s.Kerf)
				}
			}
		}
		if !cuttable(sheet) {
			t.Fatalf("no cut from edge to edge parts %+v", sheet)
		}
	}
	for name, n := range left {
		if n != 0 {
			t.Fatalf("%d of %s are missing", n, name)
		}
	}
}

// cuttable says whether places can be parted one by one by whole cuts.
func cuttable(places []Place) bool {
	if len(places) < 2 {
		return true
	}
	for _, along := range []func(Place) (lo, hi unit.Length){
		func(p Place) (unit.Length, unit.Length) { return p.X, p.X + p.Width },
		func(p Place) (unit.Length, unit.Length) { return p.Y, p.Y + p.Height },
	} {
		for _, at := range places {
			_, cut := along(at)
			var a, b []Place
			for _, p := range places {
				lo, hi := along(p)
				switch {
				case hi <= cut+slack:
					a = append(a, p)
				case lo >= cut-slack:
					b = append(b, p)
				}
			}
			if len(a)+len(b) == len(places) && len(a) > 0 && len(b) > 0 {
				return cuttable(a) && cuttable(b)
			}
		}
	}
	return false
}

func TestRandomPartsAreLaidSoundly(t *testing.T) {
	const seed = 7
	t.Logf("seed %d", seed)
	draw := rand.New(rand.NewPCG(seed, 2))
	for range 60 {
		s := Sheet{unit.MM(600), unit.MM(400), unit.MM(3 * draw.Float64()), unit.MM(10 * draw.Float64())}
		var parts []Part
		area := 0.0
		for i := range 1 + draw.IntN(8) {
			p := Part{Name: string(rune('a' + i)), Width: unit.MM(10 + 350*draw.Float64()), Height: unit.MM(10 + 200*draw.Float64()), Count: 1 + draw.IntN(6), Fixed: draw.IntN(3) == 0}
			parts = append(parts, p)
			area += float64(p.Count) * float64(p.Width*p.Height)
		}
		l, err := Pack(parts, s)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, parts, l)
		least := int(math.Ceil(area / float64(s.Width*s.Height)))
		if n := len(l.Sheets); n > 2*least+1 {
			t.Errorf("%d sheets where the area would take %d", n, least)
		}
	}
}

// Quarters of a sheet fill it, unless cuts take something away.
func TestQuarters(t *testing.T) {
	quarter := []Part{{Name: "quarter", Width: unit.MM(300), Height: unit.MM(200), Count: 4, Fixed: true}}
	for _, c := range []struct {
		kerf float64
		want int
	}{{0, 1}, {1, 4}} {
		l, err := Pack(quarter, Sheet{Width: unit.MM(600), Height: unit.MM(400), Kerf: unit.MM(c.kerf)})
		if err != nil || len(l.Sheets) != c.want {
			t.Errorf("kerf %g mm: %d sheets, want %d (%v)", c.kerf, len(l.Sheets), c.want, err)
		}
		sound(t, quarter, l)
		quarter[0].Fixed = false
		if l, _ := Pack(quarter, l.Sheet); len(l.Sheets) > c.want {
			t.Errorf("kerf %g mm: %d sheets where parts may be turned", c.kerf, len(l.Sheets))
		}
		quarter[0].Fixed = true
		if c.kerf == 0 && math.Abs(l.Used()-1) > 1e-12 {
			t.Errorf("used %g", l.Used())
		}
	}
}

// As many squares of 20 mm with cuts of 1 mm as rows and columns give: ⌊201/21⌋ · ⌊298/21⌋.
func TestSquaresInRows(t *testing.T) {
	s := Sheet{unit.MM(210), unit.MM(297), unit.MM(1), unit.MM(5)}
	p := []Part{{Name: "square", Width: unit.MM(20), Height: unit.MM(20), Count: 9 * 13}}
	l, err := Pack(p, s)
	if err != nil || len(l.Sheets) != 1 {
		t.Errorf("%d sheets (%v)", len(l.Sheets), err)
	}
	sound(t, p, l)
	p[0].Count++
	if l, _ = Pack(p, s); len(l.Sheets) != 2 {
		t.Errorf("one more takes %d sheets", len(l.Sheets))
	}
}

func TestTooLargeAPart(t *testing.T) {
	for _, p := range []Part{
		{Name: "long wall", Width: unit.MM(700), Height: unit.MM(50), Count: 1},
		{Name: "grained", Width: unit.MM(300), Height: unit.MM(500), Count: 1, Fixed: true},
	} {
		if _, err := Pack([]Part{p}, Sheet{Width: unit.MM(600), Height: unit.MM(400)}); err == nil || !strings.Contains(err.Error(), p.Name) {
			t.Errorf("%s: %v", p.Name, err)
		}
	}
	if l, err := Pack(nil, Sheet{Width: 1, Height: 1}); err != nil || len(l.Sheets) != 0 || l.Used() != 0 {
		t.Errorf("no parts take %d sheets (%v)", len(l.Sheets), err)
	}
}
