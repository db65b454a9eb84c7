// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"boardhand/internal/asbuilt"
	"boardhand/internal/frame"
	"boardhand/internal/measured"
	"boardhand/internal/motion"
	"boardhand/internal/sight/gauge"
	"boardhand/internal/sight/numeric"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/unit"
)

// dragTo drags the piece to a place so that it comes there along one axis. An axis that
// is there stays as it is: a motion shorter than its backlash would leave it in between.
func (c *carrier) dragTo(ctx context.Context, to stop) error {
	for _, k := range [2]int{1 - to.axis, to.axis} {
		side, by := c.side, c.missing(to.at, c.side)[k]
		if math.Abs(by) < c.short[k] {
			continue
		}
		side[k] = math.Copysign(1, by)
		m, next := c.target(to.at, side), c.at
		if k == 0 {
			next.X = m.X
		} else {
			next.Y = m.Y
		}
		if err := c.to(ctx, next); err != nil {
			return err
		}
	}
	return nil
}

// drag is dragTo for a machine whose axes stop short now and then: it homes, takes the piece up
// where the picture shows it, and drags it there once more.
func (s *Session) drag(ctx context.Context, to stop) error {
	for try := 1; ; try++ {
		err := s.carrier.dragTo(ctx, to)
		var stall *motion.Stall
		if !errors.As(err, &stall) || try == mostTries {
			return err
		}
		s.Maker.Tell(fmt.Sprintf("  %v; it homes and goes on.", err))
		near := s.carrier.magnet()
		if err := s.carrier.lift(ctx, false); err != nil {
			return err
		}
		if err := s.carrier.home(ctx); err != nil {
			return err
		}
		p, err := s.eye.see(ctx, near, 2*reach)
		if err != nil {
			return err
		}
		if err := s.under(ctx, p.At); err != nil {
			return err
		}
	}
}

// missing is how far each axis is from where it must count to be for a place, m.
func (c *carrier) missing(at frame.Spot[frame.Board], side [2]float64) [2]float64 {
	d := c.target(at, side).Sub(c.at)
	return [2]float64{d.X, d.Y}
}

// shot is a picture of the piece with what the machine was told.
type shot struct {
	asbuilt.Sighting
	picture *image.Gray
}

// measureAxes carries the piece over the pattern and estimates the machine, and again where
// the sightings scatter so much that they leave the axes less sure than they should be.
func (s *Session) measureAxes(ctx context.Context) error {
	var shots []shot
	for round := range mostRounds {
		more, err := s.overBoard(ctx, round)
		if err != nil {
			return err
		}
		shots = append(shots, more...)
		seen, err := s.measure(shots)
		if err != nil {
			return err
		}
		if err := s.estimate(seen); err != nil {
			return err
		}
		if s.File.Axes.SkewSigma.Degrees() < sureSkew {
			break
		}
	}
	s.tellAxes()
	return nil
}

// overBoard carries the piece over the pattern once.
func (s *Session) overBoard(ctx context.Context, round int) (shots []shot, err error) {
	c := s.carrier
	all := pattern(s.Rig, s.isDark(), round)
	for k, to := range all {
		before := c.at
		if err := s.drag(ctx, to); err != nil {
			return nil, err
		}
		p, err := s.eye.look(ctx)
		if err != nil {
			return nil, err
		}
		if far := [2]float64{c.at.X - before.X, c.at.Y - before.Y}[to.axis]; math.Abs(far) < shortest {
			continue // its lag across the last stretch has not died away
		}
		shots = append(shots, shot{c.sighting(frame.Spot[frame.Board]{}, 0), pixels.LumaOf(p.Image)})
		s.Maker.Count(k+1, len(all), "places")
	}
	return shots, nil
}

// measure finds the piece in all pictures: first with the width of its base left open,
// then with the one that they agree on.
func (s *Session) measure(shots []shot) ([]asbuilt.Sighting, error) {
	var seen []asbuilt.Sighting
	g := s.eye.gauge
	g.Fixed = false
	for pass := range 2 {
		var bases []float64
		seen = seen[:0]
		for _, sh := range shots {
			m, err := g.Measure(sh.picture, s.carrier.belief.Predict(sh.Sighting), reach)
			if errors.Is(err, gauge.ErrNotSeen) {
				continue
			}
			if err != nil {
				return nil, err
			}
			one := sh.Sighting
			one.Seen, one.Sigma = m.At, math.Hypot(leastSigma, m.Sigma)
			seen, bases = append(seen, one), append(bases, m.Base)
		}
		if len(seen) < len(shots)*3/4 {
			return nil, fmt.Errorf("the piece was seen at %d of %d places: %w", len(seen), len(shots), gauge.ErrNotSeen)
		}
		if pass == 0 {
			g.Base, g.Fixed = numeric.Median(bases), true
		}
	}
	return seen, nil
}

// tellAxes says what was found.
func (s *Session) tellAxes() {
	a, r := s.File.Axes, s.Rig
	s.Maker.Tell(fmt.Sprintf("  x goes %.4f of what it counts, y %.4f; %.3f deg out of square; the board is turned %.3f deg.\n  The field's centre is at %.2f, %.2f mm of the axes (planned %.2f, %.2f). Backlash %.2f and %.2f mm (planned %.2f, %.2f), lag %.2f mm.\n  %d sightings, %.2f mm left of each, %d outliers.",
		a.Scale[0], a.Scale[1], a.Skew.Degrees(), a.Turn.Degrees(), a.Centre[0].MM(), a.Centre[1].MM(), r.Axis.X.Origin.MM(), r.Axis.Y.Origin.MM(),
		a.Backlash[0].MM(), a.Backlash[1].MM(), r.Axis.X.Backlash.MM(), r.Axis.Y.Backlash.MM(), a.Lag.MM(), len(s.File.Places), a.RMS.MM(), measured.Outliers(s.File.Places)))
}

// measureReturns goes away and comes back to one place from one side, round a square. Each axis
// is looked at once the other one has moved last: along its last way a piece lags now more, now less.
func (s *Session) measureReturns(ctx context.Context) error {
	c := s.carrier
	on := startSquare(s.Rig, s.isDark())
	at := s.Rig.Board.Centre(on.File(), on.Rank())
	round := []stop{{at.Add(frame.Spot[frame.Board]{X: returnFrom}), 0}, {at.Add(frame.Spot[frame.Board]{X: returnFrom, Y: returnFrom}), 1},
		{at.Add(frame.Spot[frame.Board]{Y: returnFrom}), 0}, {at, 1}}
	var seen []frame.Spot[frame.Board]
	for range returns {
		var last [2]frame.Spot[frame.Board]
		for k, to := range round {
			if err := s.drag(ctx, to); err != nil {
				return err
			}
			if k < len(round)-2 {
				continue
			}
			m, err := s.eye.see(ctx, c.magnet(), reach)
			if err != nil {
				return err
			}
			last[to.axis] = at.Add(m.At.Sub(c.magnet())) // a motor of few counts says by how much it missed
		}
		seen = append(seen, frame.Spot[frame.Board]{X: last[1].X, Y: last[0].Y})
		s.Maker.Count(len(seen), returns, "returns")
	}
	_, sigma, farthest := asbuilt.Scatter(seen)
	s.File.Returns = &measured.Returns{When: s.today(), Count: returns, Sigma: [2]unit.Length{unit.Length(sigma[0]), unit.Length(sigma[1])}, Farthest: unit.Length(farthest)}
	s.Maker.Tell(fmt.Sprintf("  %d returns scatter by %.3f and %.3f mm, %.3f mm at most.", returns, sigma[0]*1e3, sigma[1]*1e3, farthest*1e3))
	return nil
}
