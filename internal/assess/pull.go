// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"errors"
	"fmt"
	"math"

	"boardhand/internal/drag"
)

const (
	besselSource = "Vokoun et al., J. Magn. Magn. Mater. 321 (2009) 3758; integral checked by direct integration over the charged discs"
	forceRange   = "gap 0.5–40 mm, offset 0–80 mm; a real pair within 15 %"
	coulomb      = "Coulomb friction"
)

// judgeHold is the coupling: can the magnet move the heaviest piece at all.
func (s *study) judgeHold() Check {
	c := Check{ID: "pull.hold", Title: "Grip of the drive magnet", Unit: "×",
		Formula: "lateral pull / (μs·(m·g + axial pull)) at the best offset", Source: besselSource + "; " + coulomb, Range: forceRange}
	if s.err != nil {
		return c.Failed(s.err)
	}
	g, err := s.Grasp()
	if err != nil {
		return c.Failed(err)
	}
	at, who, friction := g.At, pieceOf(s.Rig, g.Kind), g.Friction
	c = c.AtLeast(g.Ratio, 1, 1)
	c.Why = fmt.Sprintf("at worst (weak magnets, widest gap) the %s is pulled sideways with %.2f N at %.1f mm against %.2f N of friction",
		who.name, g.Ratio*friction, mm(at), friction)
	weight := s.stand(who).Static * weightOf(who) / friction // what of the friction a stronger pull does not change
	usual := 1 / (1 - weight + weight*s.Spread.Weak)         // the grip of magnets in the middle of their grades over that of weak ones
	c = bear(builds{s}.held(who, weight*s.Spread.Weak*usual, g.Slope), c, g.Ratio*(usual-1))
	c.Explain = fmt.Sprintf("A magnet under the board pulls a foot magnet back to its axis. The pull is zero when both are in line, grows with the offset and falls again; what it leaves over friction is largest at %.1f mm here. "+
		"The piece moves only if that pull is more than friction: μs = %.2f times the weight (%v) plus the magnet's own downward pull. "+
		"The gap is %.1f mm: board %v, air %v, recess %v; over the warp, which the spring follows while it has force left, %.1f to %.1f mm.",
		mm(at), s.Rig.Board.Friction, who.Mass, mm(s.Rig.Gap()), s.Rig.Board.Thickness, s.Rig.Lift.Air, s.Rig.Pieces.Magnet.Recess, mm(s.Spread.Near), mm(s.Spread.Far))
	c.Advice = "use a stronger pair, a thinner board or a slipperier base"
	return c
}

// least is the smallest of a quantity over the lightest and the heaviest piece, and
// whose it is.
func (s *study) least(of func(drag.Stand) (float64, error)) (float64, piece, error) {
	least, who := math.Inf(1), piece{}
	for _, m := range s.extremes() {
		v, err := of(s.stand(m))
		if err != nil {
			return least, who, err
		}
		if v < least {
			least, who = v, m
		}
	}
	return least, who, nil
}

// judgeSlip asks whether the magnet can give a piece the carriage's acceleration.
func (s *study) judgeSlip() Check {
	c := Check{ID: "drag.slip", Title: "Acceleration before a piece slips", Unit: "mm/s²",
		Formula: "(lateral pull − μs·(m·g + axial pull))/m at the best offset", Source: besselSource + "; Newton", Range: forceRange}
	if !s.carries() {
		return c.Open("pull.hold")
	}
	least, who, err := s.least(func(st drag.Stand) (float64, error) {
		h, err := st.WorstHold(s.Spread, st.Static)
		return float64(h.Most), err
	})
	if err != nil {
		return c.Failed(err)
	}
	need := float64(s.Braking())
	c = c.AtLeast(least*1e3, need*1e3, need*1e3)
	c.Why = fmt.Sprintf("the magnet can speed the %s up by %.0f mm/s² at worst; the axes ask for %.0f", who.name, least*1e3, need*1e3)
	less, err := builds{s}.harder(who, func(st drag.Stand) (float64, error) {
		h, err := st.WorstHold(s.Spread, st.Static)
		return float64(h.Most), err
	})
	if err != nil {
		return c.Failed(err)
	}
	c = bear(less.Times(1e3), c, 0)
	c.Explain = fmt.Sprintf("To gain speed the piece needs m·a on top of friction. For the %s of %v that is %.1f mN at %.0f mm/s². What is left of the pull after friction sets the limit.",
		who.name, who.Mass, float64(who.Mass)*need*1e3, need*1e3)
	return c
}

// judgeSurge asks whether the magnet tears off a piece that it leaves from rest; and,
// as a warning, one that broke away late, when the magnet had its full speed.
func (s *study) judgeSurge() Check {
	c := Check{ID: "drag.surge", Title: "Speed before the magnet tears off", Unit: "mm/s",
		Formula: "½·m·v² = ∫(lateral − μk·(m·g + axial) − m·a) dx from the static lag outwards, against √(2·a·lag) and the axes' speed at most",
		Source:  besselSource + "; work and energy", Range: forceRange}
	if !s.carries() {
		return c.Open("pull.hold")
	}
	st := s.Start()
	worst, who, err := s.tears(st)
	if err != nil {
		return c.Failed(err)
	}
	late, held, err := s.tears(drag.Start{Speed: st.Speed})
	if err != nil {
		return c.Failed(err)
	}
	at, off, full := float64(worst.At)*1e3, float64(worst.Off)*1e3, float64(st.Speed)*1e3
	c = c.AtLeast(off, at, at)
	c.Why = fmt.Sprintf("as the %s breaks away the magnet has %.0f mm/s, from %.0f mm/s on it would leave it behind", who.name, at, off)
	less, err := builds{s}.harder(who, func(of drag.Stand) (float64, error) {
		t, err := of.WorstTearOff(s.Spread, st)
		if errors.Is(err, drag.ErrSlips) {
			return 0, nil // it does not even start
		}
		return float64(t.Off - t.At), err
	})
	if err != nil {
		return c.Failed(err)
	}
	c = bear(less.Times(1e3), c, 0)
	if late := float64(late.Off) * 1e3; late < full && c.Verdict == Pass {
		c = c.Warned(true, full)
		c.Why += fmt.Sprintf("; a %s that a finger or a seam held until the magnet has its %.0f mm/s is lost, from %.0f mm/s on", held.name, full, late)
	}
	c.Explain = fmt.Sprintf("A piece first sticks until the magnet is a static lag ahead. From rest, at %.0f mm/s², the magnet moves at %.0f mm/s by then and the piece still stands: the pull must make up the difference before the offset leaves the range where it beats friction, and speed the piece up besides. So acceleration decides, and not how fast the axes are later. "+
		"Here the offset grows to %.1f mm at most.", float64(st.Accel)*1e3, at, mm(s.surge))
	return c
}

// tears is the piece, of the lightest and the heaviest, that is nearest to being left
// behind.
func (s *study) tears(st drag.Start) (worst drag.Tearing, who piece, err error) {
	for i, m := range s.extremes() {
		t, err := s.stand(m).WorstTearOff(s.Spread, st)
		if err != nil {
			return worst, who, err
		}
		if i == 0 || t.Off*worst.At < worst.Off*t.At {
			worst, who = t, m
		}
	}
	return worst, who, nil
}

// judgeSettle asks how well a carried piece ends on its square's middle.
func (s *study) judgeSettle() Check {
	c := Check{ID: "drag.settle", Title: "Where a carried piece comes to rest", Unit: "mm",
		Formula: "half the width from 2·(sliding lag) − (static lag) to the static lag over all tolerances, plus the carriage's own error",
		Source:  besselSource + "; " + coulomb, Range: forceRange}
	if !s.carries() {
		return c.Open("pull.hold")
	}
	limit := settleShare * mm(s.Rig.Board.Square)
	c = c.AtMost(mm(s.settle.Error)+mm(s.placement()), limit, limit)
	c.Why = fmt.Sprintf("pieces stop %.1f mm behind the magnet, give or take %.1f mm; leading by %.1f mm leaves them within %.1f mm of the middle",
		mm(s.settle.Lead), mm(s.settle.Error), mm(s.settle.Lead), c.Value)
	off, err := builds{s}.rests()
	if err != nil {
		return c.Failed(err)
	}
	c = bear(off.Times(1e3), c, mm(s.placement()))
	c.Explain = fmt.Sprintf("A dragged piece trails the magnet and stays behind when it stops, because friction holds it. So the carriage runs %.1f mm past the square, and there the magnet is lowered: it pulls less and less, and the resting piece stays. (A drive magnet so wide that it would draw the piece along comes back under it first: up to %.1f mm of offset the piece does not move.) "+
		"What is left is chance: sticking (μs %.2f) and sliding (μk %.2f) differ, and so do magnets and gap.",
		mm(s.settle.Lead), mm(s.settle.Stick), s.Rig.Board.Friction, s.stand(s.pieces[0]).Kinetic)
	c.Advice = "use a base whose sticking and sliding friction differ less (felt, PTFE)"
	return c
}
