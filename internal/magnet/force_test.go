package magnet

import (
	"testing"

	"boardhand/internal/unit"
)

func mm(v float64) unit.Length { return unit.MM(v) }

func disc(d, l, br float64) Cylinder { return Cylinder{mm(d), mm(l), unit.FluxDensity(br)} }

func BenchmarkForce(b *testing.B) {
	for _, c := range []struct {
		name    string
		a, b    Cylinder
		gap, at float64
	}{
		{"usual", disc(10, 5, 1.3), disc(6, 2, 1.3), 4.9, 5},
		{"close", disc(15, 8, 1.3), disc(8, 3, 1.3), 0.5, 5},
		{"far", disc(15, 8, 1.3), disc(8, 3, 1.3), 20, 80},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				Force(c.a, c.b, mm(c.gap), mm(c.at))
			}
		})
	}
}

func TestQuick(t *testing.T) {
	p, err := Force(disc(10, 5, 1.29), disc(10, 5, 1.29), mm(4), mm(5))
	t.Log(p, err, "3.12765 3.17736")
	p, err = Force(disc(15, 8, 1.29), disc(8, 3, 1.29), mm(2), mm(6))
	t.Log(p, err, "4.87158 4.53780")
	p, err = Force(disc(10, 5, 1.29), disc(10, 5, 1.29), mm(0.1), mm(0))
	t.Log(p, err, "29.84852")
	f, err := SideBySide(disc(10, 5, 1.29), disc(10, 5, 1.29), mm(15))
	t.Log(f, err, "1.274900")
	f, err = SideBySide(disc(8, 3, 1.29), disc(8, 3, 1.29), mm(60))
	t.Log(f, err, "0.000562")
}
