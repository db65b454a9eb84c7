// SPDX-License-Identifier: Apache-2.0

// Package draft writes a rig file for a square of any size: pieces in proportion, then
// magnets, sheet and drop by the checks of package assess, then what the axes must reach,
// the box around them and the camera's height.
package draft

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/axes"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Wish is what a maker says of a machine to be.
type Wish struct {
	Square  unit.Length
	Carried string // "black", "white", "both"; "" as in the file that new writes
	Removal string // "hand" or "tray"; "" likewise
}

// Text is a rig file for a wish: one that passes every check. It takes about a second.
func Text(ctx context.Context, w Wish) (string, error) {
	if err := w.check(); err != nil {
		return "", err
	}
	r := rig.Default()
	w.into(r)
	proportion(r)
	found, err := search(ctx, r)
	if err != nil {
		return "", err
	}
	return written(found)
}

func (w Wish) check() error {
	switch {
	case !(w.Square >= leastSquare && w.Square <= mostSquare):
		return fmt.Errorf("--square must be %v to %v; got %v", leastSquare, mostSquare, w.Square)
	case w.Carried != "" && !slices.Contains([]string{"black", "white", "both"}, w.Carried):
		return fmt.Errorf("--carried must be black, white or both; got %q", w.Carried)
	case w.Removal != "" && !slices.Contains([]string{"hand", "tray"}, w.Removal):
		return fmt.Errorf("--removal must be hand or tray (a chute needs a place of its own: set it in the file); got %q", w.Removal)
	}
	return nil
}

func (w Wish) into(r *rig.Rig) {
	r.Board.Square = w.Square
	r.Pieces.Carried = cmp.Or(w.Carried, r.Pieces.Carried)
	r.Removal.Mode = cmp.Or(w.Removal, r.Removal.Mode)
	if r.Removal.Mode == "tray" {
		r.Removal.Gap = w.Square
	}
	if r.Pieces.Carried == "white" {
		r.Play.Side = "white"
	}
}

// proportion makes the pieces those of the built-in file, in proportion to the square: of
// the same wood, so that mass goes with the third power, and narrow enough for the lanes.
func proportion(r *rig.Rig) {
	scale := float64(r.Board.Square / rig.Default().Board.Square)
	most := unit.Length(float64(r.Board.Square)/2 - laneLeft)
	for _, k := range r.Pieces.Kinds().All() {
		p := r.Pieces.Of(k)
		p.Height = unit.MM(math.Round(p.Height.MM() * scale))
		p.Base = unit.MM(math.Floor(10*min(p.Base*unit.Length(scale), most).MM()) / 10)
		p.Mass = unit.Grams(math.Round(10*p.Mass.Grams()*scale*scale*scale) / 10)
	}
}

// option is one choice of sheet and magnets, by their places in the lists.
type option struct{ sheet, foot, drive int }

// search goes through sheets and magnets, those nearest to what is in proportion first,
// for a rig that passes every check.
func search(ctx context.Context, from *rig.Rig) (*rig.Rig, error) {
	least, nearest := math.MaxInt, "nothing was tried"
	for _, o := range options(from) {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		r := *from
		o.into(&r)
		settled, failing := settle(&r)
		if len(failing) == 0 {
			return settled, nil
		}
		if len(failing) < least {
			least, nearest = len(failing), strings.Join(failing, ", ")
		}
	}
	return nil, fmt.Errorf("no rig of common parts passes for squares of %v (nearest: %s does not): start from `boardhand new DIR` and change the pieces", from.Board.Square, nearest)
}

// options are all choices within a few steps of what is in proportion, nearest first.
func options(r *rig.Rig) []option {
	scale := float64(r.Board.Square / rig.Default().Board.Square)
	moment := func(d [2]float64) float64 { return math.Log(d[0] * d[0] * d[1]) }
	place := func(l, t unit.Length) int {
		want := math.Log(l.MM()*l.MM()*t.MM()) + 3*math.Log(scale)
		return nearest(len(discs), func(i int) float64 { return moment(discs[i]) - want })
	}
	s := nearest(len(sheets), func(i int) float64 { return sheets[i] - r.Board.Thickness.MM()*scale })
	f, d := place(r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness), place(r.Lift.Diameter, r.Lift.Thickness)
	var out []option
	for i := max(0, s-sheetSteps); i <= min(len(sheets)-1, s+sheetSteps); i++ {
		for j := max(0, f-discSteps); j <= min(len(discs)-1, f+discSteps); j++ {
			for k := max(0, d-discSteps); k <= min(len(discs)-1, d+discSteps); k++ {
				out = append(out, option{i, j, k})
			}
		}
	}
	far := func(o option) int { return 2*abs(o.sheet-s) + abs(o.foot-f) + abs(o.drive-d) }
	slices.SortStableFunc(out, func(a, b option) int { return cmp.Compare(far(a), far(b)) })
	return out
}

func abs(i int) int { return max(i, -i) }

// nearest is the place in a list at which a difference is least.
func nearest(n int, off func(int) float64) (out int) {
	for i := range n {
		if math.Abs(off(i)) < math.Abs(off(out)) {
			out = i
		}
	}
	return out
}

func (o option) into(r *rig.Rig) {
	r.Board.Thickness = unit.MM(sheets[o.sheet])
	r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness = unit.MM(discs[o.foot][0]), unit.MM(discs[o.foot][1])
	r.Lift.Diameter, r.Lift.Thickness = unit.MM(discs[o.drive][0]), unit.MM(discs[o.drive][1])
}

// settle gives a rig the drop, reach, box, leads and camera that its checks ask for, and
// lists the lines that do not pass then.
func settle(r *rig.Rig) (*rig.Rig, []string) {
	var failing []string
	for range mostRounds {
		fit(r)
		failing = failing[:0]
		changed := false
		for _, c := range assess.Judge(r) {
			if c.Verdict == assess.Pass || strings.HasPrefix(c.ID, "caution.") {
				continue
			}
			failing = append(failing, c.ID)
			changed = answer(r, c) || changed
		}
		if len(failing) == 0 || !changed {
			break
		}
	}
	return r, failing
}

// answer changes what a line asks for, where that has no say in any other line's verdict
// but reach and time; false where the magnets must change.
func answer(r *rig.Rig, c assess.Check) bool {
	want := unit.MM(max(c.Limit, c.Missed()))
	switch c.ID {
	case "neighbours.lowered":
		drop := up(want, dropStep)
		if drop <= r.Lift.Drop || c.Limit == 0 || drop > unit.MM(60) {
			return false
		}
		r.Lift.Drop = drop
	case "camera.coverage":
		height := up(want*hangSpare, heightStep)
		if height <= r.Camera.Height {
			return false
		}
		r.Camera.Height = height
	case "camera.lean", "camera.hidden":
		r.Camera.Height += heightStep
	default:
		return false
	}
	return true
}

// up rounds up to a step.
func up(l unit.Length, step float64) unit.Length {
	return unit.Length(math.Ceil(float64(l)/step-1e-9) * step)
}

// fit makes the travel what the squares and trays ask for, the box what the travel does,
// and the leads as long as they must be.
func fit(r *rig.Rig) {
	var need [4]unit.Length
	for i, side := range assess.Begin(r, nil).Sides() {
		need[i] = side.Need
	}
	if r.Removal.Mode == "tray" {
		x, _ := r.Board.Half()
		need[0] = max(need[0], x+r.Removal.Gap+unit.MM(4))
	}
	axes.Enclose(r, need)
	cables := slices.Clone(r.Cables)
	for i, c := range cables {
		cables[i].Owned = []unit.Length{axes.LeadToBuy(r, c)}
	}
	r.Cables = cables
}

// ownedLine is where a lead's lengths stand in the built-in file.
var ownedLine = regexp.MustCompile(`(?m)^owned = \[.*\]`)

// written is the built-in file with the numbers of a rig.
func written(r *rig.Rig) (string, error) {
	text := rig.DefaultText
	i := -1
	text = ownedLine.ReplaceAllStringFunc(text, func(string) string {
		i++
		return fmt.Sprintf(`owned = ["%v"]`, r.Cables[i].Owned[0])
	})
	was := rig.Default()
	before := settings(was)
	for n, s := range settings(r) {
		if s == before[n] {
			continue
		}
		var err error
		if text, err = rig.Patch(text, s[0], s[1]); err != nil {
			return "", fmt.Errorf("%s: %w", s[0], err)
		}
	}
	return text, nil
}

// settings are the keys that a draft may change, with their values as in a file.
func settings(r *rig.Rig) (out [][2]string) {
	put := func(key string, v fmt.Stringer) { out = append(out, [2]string{key, strconv.Quote(v.String())}) }
	word := func(key, v string) { out = append(out, [2]string{key, strconv.Quote(v)}) }
	put("board.square", r.Board.Square)
	put("board.rim", r.Board.Rim)
	put("board.thickness", r.Board.Thickness)
	word("pieces.carried", r.Pieces.Carried)
	for _, k := range r.Pieces.Kinds().All() {
		p, key := r.Pieces.Of(k), "pieces."+r.Pieces.Kinds().Key(k)
		put(key+".height", p.Height)
		put(key+".base", p.Base)
		put(key+".mass", p.Mass)
	}
	put("pieces.magnet.diameter", r.Pieces.Magnet.Diameter)
	put("pieces.magnet.thickness", r.Pieces.Magnet.Thickness)
	put("lift.diameter", r.Lift.Diameter)
	put("lift.thickness", r.Lift.Thickness)
	put("lift.drop", r.Lift.Drop)
	put("axis.x.travel", r.Axis.X.Travel)
	put("axis.y.travel", r.Axis.Y.Travel)
	put("walls.left", r.Walls.Left)
	put("walls.right", r.Walls.Right)
	put("walls.front", r.Walls.Front)
	put("walls.back", r.Walls.Back)
	put("camera.height", r.Camera.Height)
	word("removal.mode", r.Removal.Mode)
	word("play.side", r.Play.Side)
	put("removal.gap", r.Removal.Gap)
	return out
}
