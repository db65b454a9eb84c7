package twin

import (
	"cmp"
	"image"
	"math"
	"math/rand/v2"
	"slices"

	"boardhand/internal/frame"
	"boardhand/internal/optics"
	"boardhand/internal/rig"
)

// studio is the camera, the light and the film.
type studio struct {
	scene  scenery
	film   *film
	chance *rand.Rand
	taken  int
	plate  *plate // nil: to be exposed anew
	still  []uint16
	seen   int      // men in the still
	busy   []uint16 // the still with an arm over it
	arm    *cover
	hides  []uint8
	closes []uint8

	onlooker onlooker
	glare    glare
	shutter  shutter
}

func newStudio(r *rig.Rig, q Quirks, chance *rand.Rand) (*studio, error) {
	view, err := optics.Nominal(r.Camera.Image, float64(r.Camera.HFOV), float64(r.Camera.Height), r.Camera.WhiteSide)
	if err != nil {
		return nil, err
	}
	s := &studio{scene: newScenery(r, chance), chance: chance, film: newFilm(chance)}
	l := &view.Lens
	l.Fx, l.Fy = l.Fx*q.FocalScale, l.Fy*q.FocalScale
	l.K1, l.K2 = q.K1, q.K2
	l.Cx, l.Cy = l.Cx+q.PrincipalX, l.Cy+q.PrincipalY
	s.scene.view = view
	s.hang(q.CameraShift, q.CameraTurn)
	s.scene.warp = newWarp(r, q)
	return s, nil
}

// hang moves the camera by shift (board frame) and turns it about itself.
func (s *studio) hang(shift frame.Point[frame.Board], turn [3]float64) {
	eye := s.scene.view.Camera().Add(shift)
	r := frame.FromVector(turn).Mul(s.scene.view.CameraFromBoard.R)
	pose := frame.Pose[frame.Camera, frame.Board]{R: r}
	t := pose.Apply(frame.Point[frame.Board]{X: -eye.X, Y: -eye.Y, Z: -eye.Z})
	pose.T = t
	s.scene.view.CameraFromBoard = pose
	s.plate = nil
}

// Chances of mishaps per picture, when their fault is on.
const (
	dropChance  = 0.04
	bumpChance  = 0.01
	lightChance = 0.015
)

// mishap lets happen to the camera and the light what faults allow.
func (s *studio) mishap(f faultSet) error {
	a, b, c := s.chance.Float64(), s.chance.Float64(), s.chance.Float64()
	about := func(most float64) float64 { return most * (2*s.chance.Float64() - 1) }
	if f[BumpCamera] && b < bumpChance {
		s.hang(frame.Point[frame.Board]{X: about(0.006), Y: about(0.006), Z: about(0.003)},
			[3]float64{about(0.015), about(0.015), about(0.02)})
	}
	if f[LightChange] && c < lightChance {
		l := &s.scene.light
		l.power = math.Max(0.15, l.power*math.Exp(about(0.5)))
		l.ambient = math.Max(0.15, l.ambient*math.Exp(about(0.3)))
		l.warm[0], l.warm[2] = l.warm[0]*(1+about(0.04)), l.warm[2]*(1+about(0.06))
		s.plate = nil
	}
	s.onlooker.next(s)
	s.glare.next(s)
	if f[CameraDrop] && a < dropChance || s.shutter.loses() {
		return ErrNoPicture
	}
	return nil
}

// shoot takes a picture of the world.
func (s *studio) shoot(w *World) ([]byte, image.Image, error) {
	s.prepare(w)
	s.compose(w)
	rgb := s.still
	if w.person.hand.out {
		copy(s.busy, s.still)
		s.drawArm(s.busy, &w.person.hand)
		rgb = s.busy
	}
	s.film.wander(meter(rgb))
	return s.film.encode(s.film.develop(rgb, s.plate.w, s.plate.h))
}

// prepare exposes the plate when the camera or the light has changed.
func (s *studio) prepare(w *World) {
	if s.plate != nil {
		return
	}
	s.scene.tableZ = w.tableZ()
	width, height := w.rig.Camera.Image[0], w.rig.Camera.Image[1]
	s.plate = s.scene.expose(width, height)
	n := width * height
	s.still, s.busy = make([]uint16, 3*n), make([]uint16, 3*n)
	s.hides, s.closes = make([]uint8, n), make([]uint8, n)
	s.arm = newCover(s.plate)
	s.seen = -1
	for _, b := range w.men {
		b.skin = nil
	}
	s.film.exposure = math.Pow(greyTarget/meter(s.plate.rgb), 0.8)
}

// compose lays shadows and men over the plate, if anything has moved.
func (s *studio) compose(w *World) {
	seen, fresh := s.visible(w)
	if !fresh && len(seen) == s.seen && !s.onlooker.changed && !s.glare.changed {
		return
	}
	s.seen = len(seen)
	clear(s.hides)
	clear(s.closes)
	for _, b := range seen {
		b.skin.shade.add(s.hides, s.closes, s.plate.w)
	}
	left := s.onlooker.cover(s)
	copy(s.still, s.plate.rgb)
	darken(s.still, s.plate.lamp, s.hides, s.closes)
	s.glare.shine(s)
	slices.SortStableFunc(seen, func(a, b *body) int { return cmp.Compare(b.skin.far, a.skin.far) })
	for _, b := range seen { // the nearest last: he hides those behind him
		b.skin.blend(s.still, s.plate.w, left)
	}
}

// visible lists the men who stand somewhere, with their sprites; fresh when
// one had to be drawn anew.
func (s *studio) visible(w *World) (seen []*body, fresh bool) {
	for _, b := range w.men {
		if b.place == gone || b.place == inHand {
			continue
		}
		if b.skin == nil {
			b.skin, fresh = s.draw(b), true
		}
		seen = append(seen, b)
	}
	return seen, fresh
}
