// SPDX-License-Identifier: Apache-2.0

package ranking

import (
	"cmp"
	"math"
	"slices"

	"boardhand/internal/assess"
	"boardhand/internal/assess/knob"
	"boardhand/internal/propose"
	"boardhand/internal/rig"
)

// knobs are what costs nothing and can be set to any number.
var knobs = []string{"axes.speed", "axes.acceleration", "lift.drop", "lift.preload"}

// trial is a rig with a knob turned.
type trial struct {
	Rig
	text string
	made *rig.Rig
}

// refine turns the knobs of the first rigs, of each on a core of its own.
func (b *bench) refine() error {
	return together(min(refined, len(b.rigs)), func(i int) error {
		text, made, err := b.build(b.rigs[i].Set)
		if err != nil {
			return err
		}
		start := trial{b.rigs[i], text, made}
		if err := b.judge(&start.Rig, made, b.builds); err != nil {
			return err
		}
		best, err := b.search(start)
		if err != nil || best.text == start.text {
			return err
		}
		if err := b.judge(&best.Rig, best.made, b.sure); err != nil {
			return err
		}
		if best.better(b.rigs[i]) < 0 {
			b.rigs[i] = best.Rig
		}
		return nil
	})
}

// search is one by coordinates: it turns one knob after the other as long as that makes the
// rig better, each way, by strides that get shorter. Source: Hooke and Jeeves, "Direct
// search" solution of numerical and statistical problems, J. ACM 8 (1961) 212 (from memory).
func (b *bench) search(best trial) (trial, error) {
	left := tries
	for stride := longStride; stride >= shortStride; stride /= 2 {
		for _, name := range knobs {
			for _, way := range [2]int{1, -1} {
				turned := false
				for left > 0 {
					next, ok, err := b.turn(best, name, way*stride)
					if err != nil {
						return best, err
					}
					if !ok {
						break
					}
					left--
					if next.finer(best) >= 0 {
						break
					}
					best, turned = next, true
				}
				if turned {
					break
				}
			}
		}
	}
	return best, nil
}

// finer orders the trials of a refinement: reserve up to what is ample, then time.
func (a trial) finer(b trial) int {
	held := func(t trial) float64 { return math.Round(20*min(t.Reserve, ample)) * t.Works }
	return cmp.Or(cmp.Compare(held(b), held(a)), cmp.Compare(math.Round(100*a.Time), math.Round(100*b.Time)))
}

// turn is a rig with a knob turned by n steps and its builds drawn; false when the knob ends
// there, or a check fails or warns that did not.
func (b *bench) turn(from trial, name string, n int) (trial, bool, error) {
	k, _ := knob.Named(name)
	turned, ok := k.Turn(from.made, n)
	if !ok {
		return from, false, nil
	}
	out := from
	out.Set, out.Refined = slices.Clone(from.Set), slices.Clone(from.Refined)
	was := k.Settings(from.made)
	for i, s := range k.Settings(turned) {
		if s != was[i] {
			out.Set, out.Refined = with(out.Set, s), with(out.Refined, s)
		}
	}
	var err error
	if out.text, out.made, err = b.build(out.Set); err != nil {
		return from, false, nil // beyond what a file may have
	}
	out.Warns = []string{}
	for _, c := range assess.Judge(out.made) {
		switch {
		case c.Verdict == assess.Fail:
			return from, false, nil
		case c.Verdict == assess.Warn && !c.Cautions():
			out.Warns = append(out.Warns, c.ID)
		}
		if c.ID == propose.TimeLine {
			out.Time = c.Value
		}
	}
	if len(out.Warns) > len(from.Warns) {
		return from, false, nil
	}
	return out, true, b.judge(&out.Rig, out.made, b.builds)
}

// with puts a setting into a list, in place of an earlier one of its key.
func with(all []assess.Setting, s assess.Setting) []assess.Setting {
	all = slices.DeleteFunc(all, func(o assess.Setting) bool { return o.Key == s.Key })
	return append(all, s)
}
