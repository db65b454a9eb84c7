package carry

import (
	"errors"
	"math"

	"boardhand/internal/magnet"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

const gravity = 9.80665 // m/s²

// pulls is the coupling of one rig: what drags a man and what holds it back.
type pulls struct {
	lift, foot      magnet.Cylinder
	static, kinetic float64
	light, heavy    float64 // masses, kg
}

func pullsOf(r *rig.Rig) (pulls, error) {
	lift, err := mid(r.Lift.Grade, float64(r.Lift.Diameter), float64(r.Lift.Thickness))
	if err != nil {
		return pulls{}, err
	}
	foot, err := mid(r.Pieces.Magnet.Grade, float64(r.Pieces.Magnet.Diameter), float64(r.Pieces.Magnet.Thickness))
	if err != nil {
		return pulls{}, err
	}
	p := pulls{lift: lift, foot: foot, static: r.Board.Friction, kinetic: r.Board.Kinetic, light: math.Inf(1)}
	for _, m := range []rig.Man{r.Pieces.King, r.Pieces.Queen, r.Pieces.Bishop, r.Pieces.Knight, r.Pieces.Rook, r.Pieces.Pawn} {
		p.light = math.Min(p.light, float64(m.Mass))
		p.heavy = math.Max(p.heavy, float64(m.Mass))
	}
	return p, nil
}

func mid(grade string, d, l float64) (magnet.Cylinder, error) {
	lo, hi, err := magnet.Grade(grade)
	return magnet.Cylinder{Diameter: unit.Length(d), Thickness: unit.Length(l), Br: (lo + hi) / 2}, err
}

var errSlips = errors.New("the magnet cannot drag a man: the pull back to its axis never exceeds the friction; a thinner board, a stronger magnet or a smoother foot is needed")

// lag is the offset at which the pull of the raised magnet equals the sliding
// friction of a man of the given mass, metres.
func (p pulls) lag(gap, mass float64) (float64, error) {
	net := func(x float64) float64 {
		f, err := magnet.Force(p.lift, p.foot, unit.Length(gap), unit.Length(x))
		if err != nil {
			return -1
		}
		return f.Lateral - p.kinetic*math.Max(0, mass*gravity+f.Axial)
	}
	const step = 0.1e-3
	for x := step; x < 12e-3; x += step {
		if net(x) >= 0 {
			return bisect(net, x-step, x), nil
		}
	}
	return 0, errSlips
}

// bisect finds where f turns from negative to positive between a and b.
func bisect(f func(float64) float64, a, b float64) float64 {
	for range 30 {
		if m := (a + b) / 2; f(m) < 0 {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// reserve is how much stronger the friction must be than the pull for a
// neighbour to count as safe: the force model is good to 15 % (Vokoun and
// Beleggia 2014) and friction scatters by as much.
const reserve = 1.5

// pass is the least distance from the magnet at which a standing man of mass
// m keeps still with the reserve, scanning inwards; 0 when it always does.
func (p pulls) pass(gap, mass float64) float64 {
	const step = 0.25e-3
	for x := 60e-3; x > 0; x -= step {
		f, err := magnet.Force(p.lift, p.foot, unit.Length(gap), unit.Length(x))
		if err != nil || math.Abs(f.Lateral)*reserve > p.static*math.Max(0, mass*gravity+f.Axial) {
			return x
		}
	}
	return 0
}

// LimitsOf computes the numbers of one rig.
func LimitsOf(r *rig.Rig) (Limits, error) {
	p, err := pullsOf(r)
	if err != nil {
		return Limits{}, err
	}
	gap, warp := float64(r.Gap()), float64(r.Board.Warp)/2
	near, err := p.lag(gap-warp, p.light)
	if err != nil {
		return Limits{}, err
	}
	far, err := p.lag(gap+warp, p.heavy)
	if err != nil {
		return Limits{}, err
	}
	l := Limits{Inside: Reach(r), Sheet: sheet(r)}
	l.Lag, l.LagSpread = (near+far)/2, math.Abs(far-near)/2
	l.Settle = l.Lag
	l.SafePass = math.Max(p.pass(gap-warp, p.light), p.pass(gap+warp, p.light))
	l.LoweredPass = p.pass(gap-warp+float64(r.Lift.Drop), p.light)
	l.Placement = placement
	l.CarrySpeed = math.Min(float64(r.Axis.X.Speed), float64(r.Axis.Y.Speed))
	l.CarryAccel = math.Min(float64(r.Axis.X.Acceleration), float64(r.Axis.Y.Acceleration))
	l.TravelSpeed, l.TravelAccel = l.CarrySpeed, l.CarryAccel
	l.LiftTime = float64(r.Lift.Drop) / float64(r.Lift.Speed)
	l.Backlash = [2]float64{float64(r.Axis.X.Backlash), float64(r.Axis.Y.Backlash)}
	return l, l.Check()
}

// placement is the error of the carriage with its backlash taken up: common
// practice for a printed or bought rack drive, no source.
const placement = 0.3e-3
