// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"fmt"
	"math"
	"slices"

	"boardhand/internal/axes"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Ballast is what is glued into every piece of both sides, over its magnet. It must not be
// of steel.
type Ballast struct {
	Name  string    `toml:"name"`
	Adds  unit.Mass `toml:"adds"` // to each piece; 0 g: none
	Price *float64  `toml:"price"`
	Mass  unit.Mass `toml:"mass"`
	Owned int       `toml:"owned"`
}

// Supply is a ready-made, plug-in supply.
type Supply struct {
	Name    string       `toml:"name"`
	Voltage unit.Voltage `toml:"voltage"`
	Current unit.Current `toml:"current"`
	Price   *float64     `toml:"price"`
	Mass    unit.Mass    `toml:"mass"`
	Owned   int          `toml:"owned"`
}

// Lens is a lens with its camera; the keys are those of the rig's camera, and as the rig
// has them when not given.
type Lens struct {
	Name  string      `toml:"name"`
	Image [2]int      `toml:"image"`
	HFOV  unit.Angle  `toml:"hfov"`
	DFOV  unit.Angle  `toml:"dfov"`
	Focal unit.Length `toml:"focal"`
	Stop  float64     `toml:"stop"`
	Focus unit.Length `toml:"focus"`
	Price *float64    `toml:"price"`
	Mass  unit.Mass   `toml:"mass"`
	Owned int         `toml:"owned"`
}

func (b Ballast) title() string {
	if b.Adds == 0 {
		return titled(b.Name, "no ballast")
	}
	return titled(b.Name, "ballast of "+b.Adds.String())
}

func (b Ballast) put() func(*rig.Rig) {
	return func(r *rig.Rig) {
		for _, k := range r.Pieces.Kinds().All() {
			if piece := r.Pieces.Of(k); b.Adds > 0 {
				piece.Mass = min(tidy(piece.Mass+b.Adds), heaviest)
			}
		}
	}
}

func (p Supply) title() string {
	return titled(p.Name, fmt.Sprintf("supply of %s, %s", p.Voltage, p.Current))
}

func (p Supply) put() func(*rig.Rig) {
	return func(r *rig.Rig) { r.Power.Voltage, r.Power.Current = p.Voltage, p.Current }
}

func (l Lens) title() string {
	if l.DFOV > 0 {
		return titled(l.Name, fmt.Sprintf("lens of %s across the diagonal", l.DFOV))
	}
	return titled(l.Name, fmt.Sprintf("lens of %s", l.HFOV))
}

// put hangs the camera. Its angle is told across the picture or across the diagonal as the
// rig does, to a hundredth of a degree.
func (l Lens) put(was *rig.Rig) func(*rig.Rig) {
	return func(r *rig.Rig) {
		c := &r.Camera
		if l.Image[0] > 0 {
			c.Image = l.Image
		}
		or(&c.Focal, l.Focal)
		or(&c.Stop, l.Stop)
		or(&c.Focus, l.Focus)
		c.HFOV, c.DFOV = l.HFOV, l.DFOV
		c.Across()
		switch {
		case was.Camera.DFOV == 0:
			c.HFOV, c.DFOV = hundredths(c.HFOV), 0
		case l.DFOV == 0:
			c.DFOV = hundredths(diagonal(c))
			c.Across()
		}
	}
}

// or puts a value in where there is one.
func or[T ~float64](at *T, v T) {
	if v != 0 {
		*at = v
	}
}

func hundredths(a unit.Angle) unit.Angle {
	const degree = math.Pi / 180
	return unit.Angle(math.Round(float64(a)/degree*100) / 100 * degree)
}

// diagonal is the angle across a picture's diagonal of one across its width: the other way
// round of rig.Camera.Across.
func diagonal(c *rig.Camera) unit.Angle {
	share := float64(c.Image[0]) / math.Hypot(float64(c.Image[0]), float64(c.Image[1]))
	if c.HFOV > math.Pi/2 {
		return c.HFOV / unit.Angle(share)
	}
	return 2 * unit.Angle(math.Atan(math.Tan(float64(c.HFOV)/2)/share))
}

func (s *Stock) checkFittings() error {
	for i, b := range s.Ballasts {
		if err := s.lacking("ballast", i, b.Adds == 0 || b.Price != nil || b.Owned > 0, "a price, or how many are owned: otherwise there are none"); err != nil {
			return err
		}
	}
	for i, p := range s.Supplies {
		if err := s.lacking("supply", i, p.Voltage > 0 && p.Current > 0, "voltage and current"); err != nil {
			return err
		}
		if err := s.obtainable("supply", i, p.Price, p.Owned); err != nil {
			return err
		}
	}
	for i, l := range s.Lenses {
		if err := s.lacking("lens", i, (l.HFOV > 0) != (l.DFOV > 0), "either hfov (across the picture) or dfov (across its diagonal), not both"); err != nil {
			return err
		}
		if err := s.obtainable("lens", i, l.Price, l.Owned); err != nil {
			return err
		}
	}
	return nil
}

// boxNeeded is the word for a box as large as the squares need.
const boxNeeded = "as needed"

// enclosed gives a rig the travel, walls and leads that its squares and trays ask for.
func enclosed(r *rig.Rig) {
	var need [4]unit.Length
	for i, w := range axes.Ways(r, overrun) {
		need[i] = w.Need
	}
	axes.Enclose(r, need)
	cables := slices.Clone(r.Cables)
	for i, c := range cables {
		if n := axes.CableNeedOf(r, c); len(c.Owned) > 0 && n.Owned == 0 {
			cables[i].Owned = append(slices.Clone(c.Owned), axes.LeadToBuy(r, c))
		}
	}
	r.Cables = cables
}
