package twin

import (
	"image"
	"math/rand/v2"

	"boardhand/internal/rig"
)

type studio struct {
	chance *rand.Rand
	taken  int
}
type sprite struct{}

func newStudio(r *rig.Rig, q Quirks, chance *rand.Rand) (*studio, error) {
	return &studio{chance: chance}, nil
}
func (s *studio) mishap(f faultSet) error                     { return nil }
func (s *studio) shoot(w *World) ([]byte, image.Image, error) { return nil, nil, nil }
