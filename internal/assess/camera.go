// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"fmt"
	"math"
	"strings"

	"boardhand/internal/assess/eye"
	"boardhand/internal/axes"
	"boardhand/internal/game"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

const fovSource = "Edmund Optics, Understanding Focal Length and Field of View, eq. 1"

// judgeCoverage asks whether the whole field is in the picture.
func judgeCoverage(r *rig.Rig) Check {
	c := Check{ID: "camera.coverage", Title: "Height at which the field is in the picture", Unit: "mm",
		Formula: "height = z + side/(short side of the picture as a tangent): for the field on the surface, and for the tallest pieces' heads on the outer squares",
		Source:  fovSource, Range: "lens without distortion up to 90°, equidistant beyond; hung by eye: 8 mm aside, 12 mm high, 1.5° tilted, 2° turned at most"}
	need, err := eye.HeightNeeded(r, hungLeast)
	if err != nil {
		return c.Failed(err)
	}
	careful, err := eye.HeightNeeded(r, hungWell)
	if err != nil {
		return c.Failed(err)
	}
	exact, err := eye.HeightNeeded(r, 0)
	if err != nil {
		return c.Failed(err)
	}
	h := mm(r.Camera.Height)
	c = c.AtLeast(h, need*1e3, careful*1e3)
	c.Why = fmt.Sprintf("the camera hangs at %.0f mm; hung exactly, the whole field is in the picture from %.0f mm; hung by eye, more often than not from %.0f mm, and surely from %.0f mm", h, exact*1e3, need*1e3, careful*1e3)
	f := r.Camera.FocalPixels()
	c.Explain = fmt.Sprintf("The lens sees %v across %d pixels: %.0f mm across and %.0f mm along on the board from this height. The short side of the picture decides, and the heads of tall pieces on the outer squares, which stand nearer to the lens.",
		r.Camera.HFOV, r.Camera.Image[0], float64(r.Camera.Image[0])*h/f, float64(r.Camera.Image[1])*h/f)
	return c
}

// judgeScale asks for enough pixels a square.
func judgeScale(r *rig.Rig) Check {
	c := Check{ID: "camera.scale", Title: "Pixels a square", Unit: "px",
		Formula: "focal length in pixels × square/height", Source: fovSource, Range: "ideal lens, at the field's middle"}
	px := r.Camera.FocalPixels() * float64(r.Board.Square) / float64(r.Camera.Height)
	c = c.AtLeast(px, leastPixels, goodPixels)
	c.Why = fmt.Sprintf("a square is %.0f pixels wide, %.2f px per mm", px, px/mm(r.Board.Square))
	c.Explain = "The reader compares shapes of pieces with the picture; below a couple of dozen pixels a square a pawn's base and its shadow become one blot."
	return c
}

// judgeFocus asks whether board and heads are sharp at a fixed focus.
func judgeFocus(r *rig.Rig) Check {
	c := Check{ID: "camera.focus", Title: "Blur of a fixed focus", Unit: "px",
		Formula: "f²·|d − focus|/(N·d·(focus − f)) over the size of a pixel, at the board and at the tallest heads",
		Source:  "lens equation; S. F. Ray, Applied Photographic Optics (from memory); limits common practice, no source", Range: "thin lens; its own blur comes on top"}
	c.Explain = "A lens is sharp at one distance and blurs more the nearer a thing is than that. Cameras with a fixed focus are set to a metre or more, for rooms and faces; a board at arm's length is nearer. Many of them can be turned in their thread, or take a spacer."
	k := r.Camera
	if k.Focus == 0 || k.Focal == 0 || k.Stop == 0 {
		return c.Passed(fmt.Sprintf("the rig does not say how the lens is focused (focal, stop, focus): it must be sharp from %.0f to %.0f mm; many small cameras with a fixed focus are not below 500 mm",
			mm(k.Height-eye.Tallest(r).Height), mm(k.Height)))
	}
	worst, at := 0.0, 0.0
	for _, d := range []unit.Length{k.Height, k.Height - eye.Tallest(r).Height} {
		b, err := eye.Blur(k, float64(d))
		if err != nil {
			return c.Failed(err)
		}
		if b > worst {
			worst, at = b, mm(d)
		}
	}
	square := k.FocalPixels() * float64(r.Board.Square/k.Height)
	c = c.AtMost(worst, mostBlur*square, easyBlur*square)
	c.Why = fmt.Sprintf("set to %v, the lens blurs over %.1f pixels what is %.0f mm away; a square has %.0f", k.Focus, worst, at, square)
	c.Advice = "take a lens whose focus can be set, or one with a smaller opening"
	return c
}

const leanSource = "relief displacement r·h/(H − h): Wolf, Dewitt, Elements of Photogrammetry, ch. 6"

// judgeLean asks which pieces lean over their squares' edges.
func judgeLean(r *rig.Rig) Check {
	c := Check{ID: "camera.lean", Title: "Pieces leaning over the edge of their square", Unit: "mm",
		Formula: "lean r·h/(H − h) + half the head, beyond half a square", Source: leanSource, Range: "ideal lens, upright pieces"}
	all, err := leanings(r)
	if err != nil {
		return c.Failed(err)
	}
	worst := eye.Leaning{Spill: math.Inf(-1)}
	for _, l := range all {
		if l.Spill > worst.Spill {
			worst = l
		}
	}
	kinds := r.Pieces.Kinds()
	// Over half a square a head lies on the middle of the next one.
	c = c.AtMost(mm(unit.Length(worst.Spill)), lane(r), 0)
	c.Why = fmt.Sprintf("no piece leans over the edge of its square; nearest is the %s on %s with %.1f mm to spare", kinds.Name(worst.Kind), worst.Square, -mm(unit.Length(worst.Spill)))
	if worst.Spill > 0 {
		c.Why = fmt.Sprintf("%s leans %.1f mm over the edge of the square; over an edge lean: %s", kinds.Name(worst.Kind)+" on "+worst.Square.String(), mm(unit.Length(worst.Spill)), spilling(all, kinds))
		if c.Verdict == Warn {
			c.Advice = fmt.Sprintf("accept that the %s on %s spills %.1f mm", kinds.Name(worst.Kind), worst.Square, mm(unit.Length(worst.Spill)))
		}
	}
	h, H := mm(eye.Tallest(r).Height), mm(r.Camera.Height)
	corner := math.Hypot(mm(axes.Outermost(r, 0)), mm(axes.Outermost(r, 2)))
	c.Explain = fmt.Sprintf("A camera close above the board sees pieces away from the middle lean outwards: the head of a %.0f mm piece on the corner square, %.0f mm from the point below the lens, appears %.1f mm further out. The reader knows the lean and allows for it, but a head over the next square hides what stands there.",
		h, corner, corner*h/(H-h))
	return c
}

// leanings are those of all kinds on all squares.
func leanings(r *rig.Rig) ([]eye.Leaning, error) {
	v, err := eye.Over(r)
	if err != nil {
		return nil, err
	}
	return v.Leanings()
}

// spilling lists the squares where pieces of a kind lean over the edge.
func spilling(all []eye.Leaning, kinds *game.Kinds) string {
	var names []string
	on := map[string][]string{}
	for _, l := range all {
		if l.Spill <= 0 {
			continue
		}
		k := kinds.Name(l.Kind)
		if on[k] == nil {
			names = append(names, k)
		}
		on[k] = append(on[k], l.Square.String())
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
func judgeHidden(r *rig.Rig) Check {
	c := Check{ID: "camera.hidden", Title: "Short pieces hidden behind tall ones", Unit: "%",
		Formula: "share of a piece on the next square outwards that lies inside the leaning outline", Source: leanSource, Range: "ideal lens, upright pieces"}
	all, err := leanings(r)
	if err != nil {
		return c.Failed(err)
	}
	var worst eye.Leaning
	for _, l := range all {
		if l.Hidden > worst.Hidden {
			worst = l
		}
	}
	c = c.AtMost(100*worst.Hidden, mostHidden, easyHidden*mostHidden)
	c.Why = "no piece hides another one"
	if worst.Hidden > 0 {
		c.Why = fmt.Sprintf("a %s on %s hides %.0f %% of the shortest piece on the next square outwards", r.Pieces.Kinds().Name(worst.Kind), worst.Square, 100*worst.Hidden)
	}
	c.Explain = "The reader tells a piece by what it sees of it. While at least half of a pawn shows, its colour and place can be told; less than that, it will ask."
	return c
}
