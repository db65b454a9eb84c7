// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"cmp"
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
)

// Studio is the camera, the light and the film.
type Studio struct {
	stage
	film   *film
	chance *rand.Rand
	faults Troubles
	taken  int
	still  []uint16
	seen   int      // pieces in the still
	busy   []uint16 // the still with an arm over it
	arm    *cover
	hides  []uint8
	closes []uint8

	sprites  map[int]drawn // by the pieces' numbers
	onlooker onlooker
	glare    glare
	shutter  shutter
}

// New hangs the camera and the lamp. An error says that the rig's camera has no
// usable size, angle or height.
func New(r *rig.Rig, o Setting) (*Studio, error) {
	view, err := optics.Nominal(r.Camera.Image, float64(r.Camera.HFOV), float64(r.Camera.Height), r.Camera.WhiteSide)
	if err != nil {
		return nil, err
	}
	m := o.Mount
	s := &Studio{stage: stage{scene: newScenery(r, o.Chance)}, chance: o.Chance, film: newFilm(o.Chance), faults: o.Troubles}
	l := &view.Lens
	l.Fx, l.Fy = l.Fx*m.FocalScale, l.Fy*m.FocalScale
	l.K1, l.K2 = m.K1, m.K2
	l.Cx, l.Cy = l.Cx+m.PrincipalX, l.Cy+m.PrincipalY
	s.scene.view, s.scene.height = view, o.Height
	s.hang(m.Shift, m.Turn)
	if low := o.Troubles.LowLamp; low != nil {
		s.scene.light.lower(low)
	}
	s.onlooker.chance, s.glare.chance = o.Troubles.Onlooker, o.Troubles.Glare
	s.shutter.losing, s.shutter.freezing = o.Troubles.Losing, o.Troubles.Freezing
	return s, nil
}

// View is how the camera truly hangs and what lens it truly has.
func (s *Studio) View() optics.View { return s.scene.view }

// hang moves the camera by shift (board frame) and turns it about itself.
func (s *Studio) hang(shift frame.Point[frame.Board], turn [3]float64) {
	eye := s.scene.view.Camera().Add(shift)
	r := frame.FromVector(turn).Mul(s.scene.view.CameraFromBoard.R)
	pose := frame.Pose[frame.Camera, frame.Board]{R: r}
	t := pose.Apply(frame.Point[frame.Board]{X: -eye.X, Y: -eye.Y, Z: -eye.Z})
	pose.T = t
	s.scene.view.CameraFromBoard = pose
	s.plate = nil
}

// mishap lets happen to the camera and the light what its troubles allow.
func (s *Studio) mishap() error {
	a, b, c := s.chance.Float64(), s.chance.Float64(), s.chance.Float64()
	about := func(most float64) float64 { return most * (2*s.chance.Float64() - 1) }
	if s.faults.Bumps && b < bumpChance {
		s.hang(frame.Point[frame.Board]{X: about(bumpShift), Y: about(bumpShift), Z: about(bumpHeight)},
			[3]float64{about(bumpTilt), about(bumpTilt), about(bumpYaw)})
	}
	if s.faults.Switches && c < lightChance {
		l := &s.scene.light
		l.power = math.Max(leastLight, l.power*math.Exp(about(switchLamp)))
		l.ambient = math.Max(leastLight, l.ambient*math.Exp(about(switchRoom)))
		l.warm[0], l.warm[2] = l.warm[0]*(1+about(switchRed)), l.warm[2]*(1+about(switchBlue))
		s.plate = nil
	}
	s.onlooker.next(&s.stage)
	s.glare.next(&s.stage)
	if s.faults.Drops && a < dropChance || s.shutter.loses() {
		return ErrNoPicture
	}
	return nil
}

// Take takes the next picture of a scene. The error is ErrNoPicture when it does
// not arrive; a picture may also be the last one again. Each call counts as one
// picture, whatever comes of it.
func (s *Studio) Take(scene Scene) (Picture, error) {
	n := s.taken
	s.taken++
	if err := s.mishap(); err != nil {
		return Picture{}, err
	}
	if last := s.shutter.last; last != nil && s.shutter.freezes() {
		return Picture{Number: n, JPEG: last.JPEG, Image: last.Image, IsFrozen: true}, nil
	}
	jpg, img, err := s.shoot(scene)
	if err != nil {
		return Picture{}, fmt.Errorf("picture %06d: %w", n, err)
	}
	p := Picture{Number: n, JPEG: jpg, Image: img}
	s.shutter.last = &p
	return p, nil
}

// shoot exposes and develops a picture of the scene.
func (s *Studio) shoot(scene Scene) ([]byte, image.Image, error) {
	s.prepare()
	s.compose(scene.Pieces)
	rgb := s.still
	if scene.Arm != nil {
		copy(s.busy, s.still)
		s.drawArm(s.busy, scene.Arm)
		rgb = s.busy
	}
	if scene.Sheet != nil {
		rgb = slices.Clone(rgb)
		s.drawSheet(rgb, scene.Sheet)
	}
	s.film.wander(meter(rgb))
	return s.film.encode(s.film.develop(rgb, s.plate.w, s.plate.h))
}

// drawArm lays the arm and its shadow over a picture.
func (s *Studio) drawArm(rgb []uint16, h *Arm) {
	limbs := h.limbs()
	s.armShadow(rgb, limbs)
	if h.Holds != nil {
		sp, _ := s.spriteOf(h.Holds)
		sp.blend(rgb, s.plate.w, nil)
	}
	c := s.arm
	c.clear()
	for _, l := range limbs {
		s.drawLimb(c, l)
	}
	c.soften()
	c.blend(rgb, s.plate)
}

// prepare exposes the plate when the camera or the light has changed.
func (s *Studio) prepare() {
	if s.plate != nil {
		return
	}
	width, height := s.scene.rig.Camera.Image[0], s.scene.rig.Camera.Image[1]
	s.plate = s.scene.expose(width, height)
	n := width * height
	s.still, s.busy = make([]uint16, 3*n), make([]uint16, 3*n)
	s.hides, s.closes = make([]uint8, n), make([]uint8, n)
	s.arm = newCover(s.plate)
	s.seen, s.sprites = -1, map[int]drawn{}
	s.film.exposure = math.Pow(greyTarget/meter(s.plate.rgb), evenness)
}

// compose lays shadows and pieces over the plate, if anything has moved.
func (s *Studio) compose(pieces []Piece) {
	seen, fresh := s.visible(pieces)
	if !fresh && len(seen) == s.seen && !s.onlooker.changed && !s.glare.changed {
		return
	}
	s.seen = len(seen)
	clear(s.hides)
	clear(s.closes)
	for _, sp := range seen {
		sp.shade.add(s.hides, s.closes, s.plate.w)
	}
	left := s.onlooker.cover(&s.stage, s.hides)
	copy(s.still, s.plate.rgb)
	darken(s.still, s.plate.lamp, s.hides, s.closes)
	s.glare.shine(&s.stage, s.still)
	slices.SortStableFunc(seen, func(a, b *sprite) int { return cmp.Compare(b.far, a.far) })
	for _, sp := range seen { // the nearest last: it hides those behind it
		sp.blend(s.still, s.plate.w, left)
	}
}

// visible are the pieces' sprites; fresh when one had to be drawn anew.
func (s *Studio) visible(pieces []Piece) (seen []*sprite, fresh bool) {
	for i := range pieces {
		sp, anew := s.spriteOf(&pieces[i])
		seen, fresh = append(seen, sp), fresh || anew
	}
	return seen, fresh
}

// drawn is a sprite and the piece that it shows.
type drawn struct {
	piece  Piece
	sprite *sprite
}

// spriteOf is a piece's sprite, drawn anew when anything of the piece has changed.
func (s *Studio) spriteOf(b *Piece) (sp *sprite, anew bool) {
	if old, ok := s.sprites[b.ID]; ok && old.piece == *b {
		return old.sprite, false
	}
	sp = s.draw(b)
	s.sprites[b.ID] = drawn{*b, sp}
	return sp, true
}
