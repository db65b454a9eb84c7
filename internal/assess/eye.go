// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"
	"strings"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
)

const fovSource = "Edmund Optics, Understanding Focal Length and Field of View, eq. 1"

// judgeCoverage asks whether the whole field is in the picture.
func (s *study) judgeCoverage() Check {
	c := Check{ID: "camera.coverage", Title: "Height at which the field is in the picture", Unit: "mm",
		Formula: "height = z + side/(short side of the picture as a tangent): for the field on the surface, and for the tallest pieces's heads on the outer squares",
		Source:  fovSource, Range: "ideal lens straight above the field's middle"}
	need, err := s.heightNeeded(0)
	if err != nil {
		return c.failed(err)
	}
	careful, err := s.heightNeeded(hangError)
	if err != nil {
		return c.failed(err)
	}
	h := mm(s.Rig.Camera.Height)
	c = c.atLeast(h, need*1e3, careful*1e3)
	c.Why = fmt.Sprintf("the camera hangs at %.0f mm; from %.0f mm the whole field is in the picture, from %.0f mm also when it hangs a little off", h, need*1e3, careful*1e3)
	f := s.Rig.Camera.FocalPixels()
	c.Explain = fmt.Sprintf("The lens sees %v across %d pixels: %.0f mm across and %.0f mm along on the board from this height. The short side of the picture decides, and the heads of tall pieces on the outer squares, which stand nearer to the lens.",
		s.Rig.Camera.HFOV, s.Rig.Camera.Image[0], float64(s.Rig.Camera.Image[0])*h/f, float64(s.Rig.Camera.Image[1])*h/f)
	return c
}

// heightNeeded is the least camera height in metres with a margin left free.
func (s *study) heightNeeded(margin float64) (float64, error) {
	cam := s.Rig.Camera
	lens := optics.Ideal(cam.Image[0], cam.Image[1], float64(cam.HFOV))
	field, err := optics.HeightFor(float64(s.Rig.Board.Field()), 0, margin, lens)
	if err != nil {
		return 0, err
	}
	t := s.tallest()
	heads, err := optics.HeightFor(7*float64(s.Rig.Board.Square)+headShare*float64(t.Base), float64(t.Height), margin, lens)
	return math.Max(field, heads), err
}

// judgeScale asks for enough pixels a square.
func (s *study) judgeScale() Check {
	c := Check{ID: "camera.scale", Title: "Pixels a square", Unit: "px",
		Formula: "focal length in pixels × square/height", Source: fovSource, Range: "ideal lens, at the field's middle"}
	px := s.Rig.Camera.FocalPixels() * float64(s.Rig.Board.Square) / float64(s.Rig.Camera.Height)
	c = c.atLeast(px, leastPixels, goodPixels)
	c.Why = fmt.Sprintf("a square is %.0f pixels wide, %.2f px per mm", px, px/mm(s.Rig.Board.Square))
	c.Explain = "The reader compares shapes of pieces with the picture; below a couple of dozen pixels a square a pawn's foot and its shadow become one blot."
	return c
}

// leaning is one piece leaning over its square's edge.
type leaning struct {
	kind   string
	square string
	spill  float64 // mm beyond its square, onto another or off the field
	hidden float64 // share of the piece on the next square outwards that it hides
}

// leanings go through all kinds and squares.
func (s *study) leanings() ([]leaning, error) {
	cam := s.Rig.Camera
	v, err := optics.Nominal(cam.Image, float64(cam.HFOV), float64(cam.Height), cam.WhiteSide)
	if err != nil {
		return nil, err
	}
	var out []leaning
	for _, m := range s.pieces {
		for f := range rig.Files {
			for r := range rig.Files {
				l, err := s.leanOf(v, m, [2]int{f, r})
				if err != nil {
					return nil, fmt.Errorf("the %s reaches the camera: %w", m.kind, err)
				}
				out = append(out, l)
			}
		}
	}
	return out, nil
}

// leanOf is the lean of one piece on one square.
func (s *study) leanOf(v optics.View, m piece, at [2]int) (leaning, error) {
	b := s.Rig.Board
	foot := b.Centre(at[0], at[1])
	top, err := v.Leaned(foot, float64(m.Height))
	if err != nil {
		return leaning{}, err
	}
	head := headShare * float64(m.Base) / 2 * float64(s.Rig.Camera.Height) / float64(s.Rig.Camera.Height-m.Height)
	half := float64(b.Square) / 2
	spill := math.Max(math.Abs(top.X-foot.X), math.Abs(top.Y-foot.Y)) + head - half
	l := leaning{kind: m.kind.String(), square: squareName(at), spill: spill * 1e3}
	l.hidden, err = s.hides(v, m, at)
	return l, err
}

// hides is the share of the shortest piece on the next square outwards, along
// the lean, that this one covers in the picture.
func (s *study) hides(v optics.View, m piece, at [2]int) (float64, error) {
	next := [2]int{outwards(at[0]), outwards(at[1])}
	worst := 0.0
	for _, n := range [][2]int{{next[0], at[1]}, {at[0], next[1]}, next} {
		if n[0] < 0 || n[0] > 7 || n[1] < 0 || n[1] > 7 || n == at {
			continue
		}
		h, err := s.covered(v, m, [2][2]int{at, n})
		if err != nil {
			return 0, err
		}
		worst = math.Max(worst, h)
	}
	return worst, nil
}

// outwards is the next file or rank away from the middle.
func outwards(i int) int {
	if i < 4 {
		return i - 1
	}
	return i + 1
}

// covered is the share of the shortest piece on the second square that lies
// behind piece m on the first: of nine discs from its foot to its head, those
// whose middles are inside the outline of m.
func (s *study) covered(v optics.View, m piece, at [2][2]int) (float64, error) {
	short := s.pieces[len(s.pieces)-1]
	for _, o := range s.pieces {
		if o.Height < short.Height {
			short = o
		}
	}
	a, b := s.Rig.Board.Centre(at[0][0], at[0][1]), s.Rig.Board.Centre(at[1][0], at[1][1])
	aTop, err := v.Leaned(a, float64(m.Height))
	if err != nil {
		return 0, err
	}
	bTop, err := v.Leaned(b, float64(short.Height))
	if err != nil {
		return 0, err
	}
	const parts = 9
	hidden := 0
	for i := range parts {
		p := b.Add(bTop.Sub(b).Scale(float64(i) / (parts - 1)))
		d, share := offLine(p, a, aTop)
		width := float64(m.Base) / 2 * (1 + (headShare-1)*share)
		if d < width {
			hidden++
		}
	}
	return float64(hidden) / parts, nil
}

// offLine is the distance of p from the stretch a–b and where along it.
func offLine(p, a, b frame.Spot[frame.Board]) (distance, share float64) {
	d := b.Sub(a)
	if n := d.Dot(d); n > 0 {
		share = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/n))
	}
	return p.Sub(a.Add(d.Scale(share))).Norm(), share
}

func squareName(at [2]int) string { return string(rune('a'+at[0])) + string(rune('1'+at[1])) }

const leanSource = "relief displacement r·h/(H − h): Wolf, Dewitt, Elements of Photogrammetry, ch. 6"

// judgeLean asks which pieces lean over their squares' edges.
func (s *study) judgeLean() Check {
	c := Check{ID: "camera.lean", Title: "Pieces leaning over the edge of their square", Unit: "mm",
		Formula: "lean r·h/(H − h) + half the head, beyond half a square", Source: leanSource, Range: "ideal lens, upright pieces"}
	all, err := s.leanings()
	if err != nil {
		return c.failed(err)
	}
	worst := leaning{spill: math.Inf(-1)}
	for _, l := range all {
		if l.spill > worst.spill {
			worst = l
		}
	}
	// Over half a square a head lies on the middle of the next one.
	c = c.atMost(worst.spill, s.lane(), 0)
	c.Why = fmt.Sprintf("no piece leans over the edge of its square; nearest is the %s on %s with %.1f mm to spare", worst.kind, worst.square, -worst.spill)
	if worst.spill > 0 {
		c.Why = fmt.Sprintf("%s leans %.1f mm over the edge of the square; over an edge lean: %s", worst.kind+" on "+worst.square, worst.spill, spilling(all))
		c.Advice = fmt.Sprintf("accept that the %s on %s spills %.1f mm", worst.kind, worst.square, worst.spill)
	}
	h, H := mm(s.tallest().Height), mm(s.Rig.Camera.Height)
	c.Explain = fmt.Sprintf("A camera close above the board sees pieces away from the middle lean outwards: the head of a %.0f mm piece on the corner square, %.0f mm from the point below the lens, appears %.1f mm further out. The reader knows the lean and allows for it, but a head over the next square hides what stands there.",
		h, 3.5*math.Sqrt2*mm(s.Rig.Board.Square), 3.5*math.Sqrt2*mm(s.Rig.Board.Square)*h/(H-h))
	return c
}

// spilling lists the squares where pieces of a kind lean over the edge.
func spilling(all []leaning) string {
	var names []string
	on := map[string][]string{}
	for _, l := range all {
		if l.spill <= 0 {
			continue
		}
		if on[l.kind] == nil {
			names = append(names, l.kind)
		}
		on[l.kind] = append(on[l.kind], l.square)
	}
	var parts []string
	for _, k := range names {
		sq := on[k]
		text := strings.Join(sq, ", ")
		if len(sq) > 8 {
			text = fmt.Sprintf("%d squares, %s to %s", len(sq), sq[0], sq[len(sq)-1])
		}
		parts = append(parts, fmt.Sprintf("%s on %s", k, text))
	}
	return strings.Join(parts, "; ")
}

// judgeHidden asks whether a short piece behind a tall one can still be told.
func (s *study) judgeHidden() Check {
	c := Check{ID: "camera.hidden", Title: "Short pieces hidden behind tall ones", Unit: "%",
		Formula: "share of a piece on the next square outwards that lies inside the leaning outline", Source: leanSource, Range: "ideal lens, upright pieces"}
	all, err := s.leanings()
	if err != nil {
		return c.failed(err)
	}
	var worst leaning
	for _, l := range all {
		if l.hidden > worst.hidden {
			worst = l
		}
	}
	c = c.atMost(100*worst.hidden, mostHidden, 0.6*mostHidden)
	c.Why = "no piece hides another one"
	if worst.hidden > 0 {
		c.Why = fmt.Sprintf("a %s on %s hides %.0f %% of the shortest piece on the next square outwards", worst.kind, worst.square, 100*worst.hidden)
	}
	c.Explain = "The reader tells a piece by what it sees of it. While at least half of a pawn shows, its colour and place can be told; less than that, it will ask."
	return c
}
