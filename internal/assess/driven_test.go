// SPDX-License-Identifier: Apache-2.0

package assess

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/rig"
)

// What play refuses fails its own line, which says what to set; that is written
// into the file and mends it.
func TestWhatPlayRefusesFails(t *testing.T) {
	for _, c := range []struct {
		set []Setting
		ids []string
		why string
	}{
		{nil, nil, ""},
		{[]Setting{{Key: "controller.kind", Value: `"gcode"`}, {Key: "controller.port", Value: `"ttyUSB0"`}}, nil, ""},
		{[]Setting{{Key: "controller.kind", Value: `"tacho"`}}, []string{"controller.kind"}, `"tacho" and controller.motor.x names no port`},
		{[]Setting{{Key: "camera.source", Value: `"v4l2:/dev/video0"`}}, []string{"camera.source"}, "does not see the simulated carriage"},
		{[]Setting{{Key: "camera.source", Value: `"v4l2:/dev/video0"`}, {Key: "controller.kind", Value: `"gcode"`}, {Key: "controller.port", Value: `"ttyUSB0"`}}, nil, ""},
		{[]Setting{{Key: "camera.source", Value: `"folder:evening"`}, {Key: "controller.kind", Value: `"tacho"`}}, []string{"controller.kind", "camera.source"}, "watch --frames"},
	} {
		r := patched(t, c.set...)
		checks := Run(r, nil)
		if ids := failing(checks); !reflect.DeepEqual(ids, c.ids) {
			t.Fatalf("%v: fails %v, want %v", c.set, ids, c.ids)
		}
		set := slices.Clone(c.set)
		all := ""
		for _, k := range checks {
			if k.Verdict == Fail {
				all += k.Why
				if !strings.Contains(k.Change, k.ID+` = "twin"`) {
					t.Errorf("%v: change %q", c.set, k.Change)
				}
				set = append(set, k.Fixes[0].Set...)
			}
		}
		if !strings.Contains(all, c.why) {
			t.Errorf("%v: said %q, want %q", c.set, all, c.why)
		}
		if ids := failing(driven(patched(t, set...))); ids != nil {
			t.Errorf("%v: mended as told, it fails %v", c.set, ids)
		}
	}
}

// No search for parts stops at it, and it is explained.
func TestDrivenIsNoMatterOfParts(t *testing.T) {
	r := patched(t, Setting{Key: "controller.kind", Value: `"tacho"`})
	if ids := failing(Judge(r)); ids != nil {
		t.Errorf("a search would refuse the rig for %v", ids)
	}
	for _, id := range []string{"controller.kind", "camera.source"} {
		if text, err := Explain(r, id); err != nil || !strings.Contains(text, "twin") {
			t.Errorf("%s: %q, %v", id, text, err)
		}
	}
	if ids := failing(driven(rig.Default())); ids != nil {
		t.Errorf("the rig that new writes fails %v", ids)
	}
}
