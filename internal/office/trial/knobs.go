// SPDX-License-Identifier: Apache-2.0

package trial

import (
	"cmp"
	"slices"
	"strings"

	"boardhand/internal/assess/knob"
	"boardhand/internal/rig"
)

// Knob is what a maker can turn of a rig, with where it can stand.
type Knob struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Group string `json:"group"`
	At    int    `json:"at"` // the step that it stands at
	Steps []Step `json:"steps"`
}

// Step is one place of a knob.
type Step struct {
	Label string        `json:"label"`
	Set   []rig.Setting `json:"set"` // what differs from the rig; nothing where it stands
}

// titles are the names of knobs that are no key of the rig file.
var titles = map[string]string{
	"lift.magnet": "drive magnet", "pieces.magnet": "magnets of the pieces", "reach": "room for the carriage",
	"axes.speed": "speed of both axes", "axes.acceleration": "acceleration of both axes", "axes.backlash": "backlash of both axes",
	"axes.motor.gearing": "gearing of both motors", "axes.motor.stall_torque": "stall torque of both motors", "axes.counts": "counts of both motors",
	"bases": "bases of all pieces", "masses": "masses of all pieces",
}

// groups are the headings that knobs stand under, by the first word of their names.
var groups = []struct{ title, words string }{
	{"Board", "board"}, {"Pieces", "pieces bases masses play"}, {"Lift", "lift"}, {"Axes", "axes axis reach"},
	{"Camera", "camera"}, {"House and power", "walls removal power controller"},
}

func groupOf(name string) int {
	word, _, _ := strings.Cut(name, ".")
	return max(0, slices.IndexFunc(groups, func(g struct{ title, words string }) bool { return slices.Contains(strings.Fields(g.words), word) }))
}

// Knobs are those that turn at all on a rig, group by group.
func Knobs(r *rig.Rig) (out []Knob) {
	for _, name := range knob.Names() {
		k, _ := knob.Named(name)
		one := Knob{Name: name, Title: cmp.Or(titles[name], name), Group: groups[groupOf(name)].title}
		less, more := steps(k, r, -1), steps(k, r, 1)
		slices.Reverse(less)
		one.At = len(less)
		one.Steps = append(append(less, standing(k, r)), more...)
		if len(one.Steps) > 1 {
			out = append(out, one)
		}
	}
	slices.SortStableFunc(out, func(x, y Knob) int { return groupOf(x.Name) - groupOf(y.Name) })
	return out
}

// steps are the places of a knob one way from where it stands, nearest first.
func steps(k knob.Knob, r *rig.Rig, way int) (out []Step) {
	was := k.Settings(r)
	for n := 1; n <= mostSteps; n++ {
		c, ok := k.Turn(r, way*n)
		if !ok {
			break
		}
		var set []rig.Setting
		for i, s := range k.Settings(c) {
			if i >= len(was) || s != was[i] {
				set = append(set, s)
			}
		}
		if len(set) == 0 {
			break
		}
		out = append(out, Step{label(k.Name, k.Settings(c), set), set})
	}
	return out
}

// label is where a knob stands: the value of the key that it is named by; else those of its keys,
// of the changed ones where some are, each once.
func label(name string, all, changed []rig.Setting) string {
	if i := slices.IndexFunc(all, func(s rig.Setting) bool { return s.Key == name }); i >= 0 {
		all = all[i : i+1]
	} else if len(changed) > 0 && len(all) > 2 {
		all = changed
	}
	var out []string
	for _, s := range all {
		if v := strings.Trim(s.Value, `"`); !slices.Contains(out, v) {
			out = append(out, v)
		}
	}
	if len(out) > mostValues {
		out = append(out[:mostValues], "…")
	}
	return strings.Join(out, ", ")
}

// standing is the step that a knob stands at; nothing is said of a key that the rig does not give.
func standing(k knob.Knob, r *rig.Rig) Step {
	all := k.Settings(r)
	isGiven := func(s rig.Setting) bool {
		return slices.ContainsFunc(r.Settings(), func(g rig.Setting) bool { return g.Key == s.Key })
	}
	if !slices.ContainsFunc(all, isGiven) {
		return Step{Label: "not given"}
	}
	return Step{Label: label(k.Name, all, nil)}
}
