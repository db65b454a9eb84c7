package twin

import (
	"math"

	"boardhand/internal/carry"
	"boardhand/internal/frame"
	"boardhand/internal/rig"
)

// leg is one straight piece of a stroke with its limits along it.
type leg struct {
	from, dir frame.Spot[frame.Machine]
	length    float64
	speed     float64 // m/s
	accel     float64 // m/s²
	exit      float64 // speed allowed at its end, m/s
}

// run is a controller working off a stroke: trapezoids that slow down for
// corners, as open motion firmware does.
type run struct {
	legs  []leg
	index int
	done  float64 // of the current leg, m
	speed float64
	end   frame.Spot[frame.Machine]
}

// cornerDeviation is how far a corner may be cut in thought to find its speed:
// v² = a δ sin(θ/2)/(1 − sin(θ/2)), θ the angle between the legs.
// Grbl 1.1 prints 0.010 mm as its default and advises more for smooth motion.
const cornerDeviation = 0.00002 // m

// newRun plans a stroke from where the motors are.
func newRun(r *rig.Rig, at frame.Spot[frame.Machine], s carry.Stroke, boost float64) *run {
	p := &run{end: at}
	for _, to := range s.Path {
		d := to.Sub(p.end)
		n := d.Norm()
		if n < 1e-9 {
			continue
		}
		l := leg{from: p.end, dir: d.Scale(1 / n), length: n}
		l.speed = boost * limit(l.dir, float64(s.Speed), float64(r.Axis.X.Speed), float64(r.Axis.Y.Speed))
		l.accel = boost * limit(l.dir, float64(s.Accel), float64(r.Axis.X.Acceleration), float64(r.Axis.Y.Acceleration))
		p.legs = append(p.legs, l)
		p.end = to
	}
	for i := len(p.legs) - 2; i >= 0; i-- {
		a, b := &p.legs[i], p.legs[i+1]
		stop := math.Sqrt(b.exit*b.exit + 2*b.accel*b.length)
		a.exit = min(corner(a.dir, b.dir, min(a.accel, b.accel)), a.speed, b.speed, stop)
	}
	return p
}

// limit is the most along dir that leaves each axis within its own; 0 for
// along means the stroke gives no limit.
func limit(dir frame.Spot[frame.Machine], along, x, y float64) float64 {
	most := math.Inf(1)
	if along > 0 {
		most = along
	}
	if dir.X != 0 {
		most = min(most, x/math.Abs(dir.X))
	}
	if dir.Y != 0 {
		most = min(most, y/math.Abs(dir.Y))
	}
	return most
}

func corner(a, b frame.Spot[frame.Machine], accel float64) float64 {
	half := math.Sqrt(math.Max(0, (1+a.Dot(b))/2)) // sin(θ/2), θ = π when straight on
	if half > 1-1e-9 {
		return math.Inf(1)
	}
	return math.Sqrt(accel * cornerDeviation * half / (1 - half))
}

// next is where the motors are to be one step later; false at the end.
func (p *run) next() (frame.Spot[frame.Machine], bool) {
	if p.index >= len(p.legs) {
		return p.end, false
	}
	l := p.legs[p.index]
	rest := l.length - p.done
	brake := math.Sqrt(l.exit*l.exit + 2*l.accel*rest)
	p.speed = min(p.speed+l.accel*dt, l.speed, max(brake, l.accel*dt))
	p.done += p.speed * dt
	for p.done >= l.length {
		p.done -= l.length
		p.index++
		if p.index >= len(p.legs) {
			return p.end, true
		}
		l = p.legs[p.index]
	}
	return l.from.Add(l.dir.Scale(p.done)), true
}
