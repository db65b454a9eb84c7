package assess

import (
	"fmt"
	"math"

	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// menOf lists the men of a rig with the names of their keys.
func menOf(r *rig.Rig) []struct {
	name string
	man  *rig.Man
} {
	p := &r.Pieces
	return []struct {
		name string
		man  *rig.Man
	}{{"king", &p.King}, {"queen", &p.Queen}, {"bishop", &p.Bishop}, {"knight", &p.Knight}, {"rook", &p.Rook}, {"pawn", &p.Pawn}}
}

// bases limits all feet from above (n < 0) or below (n > 0): n steps of half a
// millimetre from the widest or the narrowest foot.
var bases = manKnob("base", 0.5, func(m *rig.Man) *float64 { return (*float64)(&m.Base) })

// masses does the same for weights, steps of half a gram.
var masses = manKnob("mass", 0.5, func(m *rig.Man) *float64 { return (*float64)(&m.Mass) })

// manKnob moves the extreme men together: feet wider than the limit shrink to
// it, or narrower ones grow to it. Values are written in thousandths of SI.
func manKnob(what string, step float64, field func(*rig.Man) *float64) knob {
	unitName := map[string]string{"base": "mm", "mass": "g"}[what]
	return knob{
		name: "men's " + what,
		turn: func(r *rig.Rig, n int) (*rig.Rig, bool) {
			c := *r
			limit := math.Inf(n)
			for _, m := range menOf(&c) {
				v := *field(m.man) * 1e3
				if n < 0 {
					limit = math.Max(limit, v)
				} else {
					limit = math.Min(limit, v)
				}
			}
			limit = onGrid(limit, step, n)
			for _, m := range menOf(&c) {
				v := field(m.man)
				if n < 0 && *v*1e3 > limit || n > 0 && *v*1e3 < limit {
					*v = limit / 1e3
				}
			}
			return &c, limit >= map[string]float64{"base": 4, "mass": 0.5}[what] && limit <= map[string]float64{"base": 60, "mass": 300}[what] &&
				(what != "base" || limit < float64(r.Board.Square)*1e3)
		},
		settings: func(r *rig.Rig) (out []Setting) {
			for _, m := range menOf(r) {
				out = append(out, Setting{fmt.Sprintf("pieces.%s.%s", m.name, what), written(*field(m.man)*1e3, unitName)})
			}
			return out
		},
	}
}

func liftDisc(r *rig.Rig) (*unit.Length, *unit.Length) { return &r.Lift.Diameter, &r.Lift.Thickness }

func footDisc(r *rig.Rig) (*unit.Length, *unit.Length) {
	return &r.Pieces.Magnet.Diameter, &r.Pieces.Magnet.Thickness
}
