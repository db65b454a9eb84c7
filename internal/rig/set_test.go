// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"fmt"
	"strings"
	"testing"
)

// A key set is the key written in the file, units without quotes, lists without brackets.
func TestSet(t *testing.T) {
	r, err := Set("rig.toml", []byte(DefaultText), []Setting{
		{"board.square", "45mm"}, {"board.friction", "0.25"}, {"pieces.carried", "both"}, {"camera.image", "1920, 1080"},
		{"accept.camera.lean", "we play slowly"}, {"pieces.king.height", `"80 mm"`}, {"tolerance.glue.within", "0.3 mm"},
	}, Machine)
	if err != nil {
		t.Fatal(err)
	}
	if r.Board.Square.MM() != 45 || r.Board.Friction != 0.25 || r.Pieces.Carried != "both" || r.Camera.Image != [2]int{1920, 1080} ||
		r.Accept.Reason("camera.lean") != "we play slowly" {
		t.Errorf("got %v, %v, %v, %v, %v", r.Board.Square, r.Board.Friction, r.Pieces.Carried, r.Camera.Image, r.Accept)
	}
	has := fmt.Sprint(r.Settings())
	for _, want := range []string{"{board.square 45 mm}", "{camera.image 1920 1080}", "{accept.camera.lean we play slowly}", "{pieces.king.height 80 mm}", "{tolerance.glue.within 0.3 mm}", "{lift.friction 0.2}"} {
		if !strings.Contains(has, want) {
			t.Errorf("what is written lacks %s: %s", want, has)
		}
	}
}

func TestSetRefuses(t *testing.T) {
	for _, c := range []struct{ set, says string }{
		{"board.sqare=45mm", "there is no key board.sqare; nearest: board.square"},
		{"speed=100mm/s", "lift.speed"},
		{"board=45mm", "board is a group of keys"},
		{"board.square=45", "board.square"},
		{"board.square=4 m", "board.square must be"},
		{"board.friction=a lot", "board.friction"},
		{"pieces.carried=grey", "pieces.carried must be one of"},
		{"cable.from=lift", "stands in a list of tables"},
		{"accept.camera.lean=\"\"", "takes the reason"},
		{"board.square", "must be a key and its value"},
		{"=3", "must be a key and its value"},
	} {
		s, err := ParseSetting(c.set)
		if err == nil {
			_, err = Set("rig.toml", []byte(DefaultText), []Setting{s}, Machine)
		}
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.set, err, c.says)
		}
	}
}

func TestParseSweep(t *testing.T) {
	s, err := ParseSweep("board.square=38:50:4mm")
	if err != nil || fmt.Sprint(s.Values) != "[38 42 46 50]" || s.Setting(1) != (Setting{"board.square", "42 mm"}) {
		t.Errorf("%+v, %v", s, err)
	}
	s, err = ParseSweep("board.friction = 0.3:0.1:-0.1")
	if err != nil || fmt.Sprint(s.Values) != "[0.3 0.2 0.1]" || s.Setting(0).Value != "0.3" {
		t.Errorf("%+v, %v", s, err)
	}
	for _, bad := range []string{"board.square", "board.square=1:2", "board.square=1mm:2cm:1mm", "board.square=1:2:0", "board.square=2:1:1", "board.square=a:2:1", "board.square=0:5000:1"} {
		if s, err := ParseSweep(bad); err == nil {
			t.Errorf("%s is %+v", bad, s)
		}
	}
}

// A reason may stand under a check's name with its dots, or in quotes.
func TestAccept(t *testing.T) {
	for _, text := range []string{"\n[accept]\ncamera.lean = \"slow\"\n", "\n[accept]\n\"camera.lean\" = \"slow\"\n", "\n[accept.camera]\nlean = \"slow\"\n"} {
		r, err := Parse("rig.toml", []byte(DefaultText+text), Machine)
		if err != nil || r.Accept.Reason("camera.lean") != "slow" || r.Accept.Reason("camera.scale") != "" {
			t.Errorf("%s: %v", text, err)
		}
	}
	for _, text := range []string{"\n[accept]\ncamera.lean = true\n", "\n[accept]\ncamera.lean = \" \"\n", "\naccept = 3\n"} {
		if _, err := Parse("rig.toml", []byte(DefaultText+text), Machine); err == nil {
			t.Errorf("%s is read", text)
		}
	}
}
