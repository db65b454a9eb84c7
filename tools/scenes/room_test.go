// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"boardhand/internal/chess"
)

// TestRoomOf: any range of sessions has the kinds evenly, and one of six
// begins near a promotion, of other kinds each time.
func TestRoomOf(t *testing.T) {
	for _, name := range []string{"tune01", "valid02", "gate03", "heads04", "rooms05", "roomt", "roomtx", "roomv00"} {
		if roomOf(name) != nil {
			t.Errorf("%s is taken for a room", name)
		}
	}
	near := map[roomKind]bool{}
	count, promotions := map[roomKind]int{}, 0
	for n := 1; n <= 96; n++ {
		r := roomOf(fmt.Sprintf("roomv%02d", n))
		count[r.kind]++
		if r.promotes() {
			promotions++
			near[r.kind] = true
		}
	}
	for k := range roomKinds {
		if count[k] != 96/int(roomKinds) {
			t.Errorf("%v: %d of 96 sessions", k, count[k])
		}
	}
	if promotions != 16 || len(near) < int(roomKinds) {
		t.Errorf("%d of 96 sessions begin near promotions, of %d kinds", promotions, len(near))
	}
}

// planned plays sessions of the rooms' sets without drawing them.
func planned(t *testing.T, each func(t *testing.T, s *session, shots []shot)) {
	t.Helper()
	for n := 1; n <= 24; n++ {
		name := fmt.Sprintf("roomt%02d", n)
		t.Run(name, func(t *testing.T) {
			s, shots, err := planSession(diceFor(name), options{}, name)
			if err != nil {
				t.Fatal(err)
			}
			each(t, s, shots)
		})
	}
}

// TestTruthOfRooms replays the truth of the rooms through the rules.
func TestTruthOfRooms(t *testing.T) {
	planned(t, func(t *testing.T, s *session, shots []shot) {
		pos, err := chess.ParseFEN(s.start)
		if err != nil {
			t.Fatal(err)
		}
		count := map[string]int{}
		for _, sh := range shots {
			count[sh.truth.State]++
			on := standing(s, sh.pieces)
			switch sh.truth.State {
			case "move":
				m, err := pos.ParseUCI(sh.truth.Move)
				if err != nil {
					t.Fatalf("%s: %v", sh.truth.Frame, err)
				}
				pos = pos.After(m)
				fallthrough
			case "same":
				if !shows(pos, on) {
					t.Errorf("%s %s does not show %s", sh.truth.Frame, sh.truth.Kind, pos.FEN())
				}
			case "partial", "illegal":
				nothingLegal(t, pos, on, sh)
			case "hand":
				if len(sh.extra) == 0 || sh.extra[0].unseen {
					t.Errorf("%s: no hand", sh.truth.Frame)
				}
			}
			if sh.truth.FEN != pos.FEN() || sh.truth.Room != s.room.kind.String() {
				t.Errorf("%s: %+v, want %s", sh.truth.Frame, sh.truth, pos.FEN())
			}
		}
		n := float64(len(shots))
		if share := float64(count["move"]) / n; n < 16 || n > 26 || share < 0.5 || share > 0.72 || count["hand"] < 2 || count["partial"]+count["illegal"] < 2 {
			t.Errorf("%v of %v pictures", count, n)
		}
	})
}

// TestRoomsKeepTheirRanges: camera, board and sensor are what the sets promise.
func TestRoomsKeepTheirRanges(t *testing.T) {
	wrong := 0
	planned(t, func(t *testing.T, s *session, shots []shot) {
		v := s.view
		hfov := 2 * math.Atan(float64(v.w)/2/v.f) * 180 / math.Pi
		if h := v.eye().Z; h < 450 || h > 700 || v.k1 < -0.25 || v.k1 > 0 || s.square < 25 || s.square > 50 || hfov < 54.9 || hfov > 80.1 {
			t.Errorf("eye %.0f mm, k1 %.2f, squares %g mm, %.1f degrees", h, v.k1, s.square, hfov)
		}
		if !strings.Contains(s.camera(shots).About, "room: "+s.room.kind.String()) {
			t.Errorf("about %q does not tell the kind", s.camera(shots).About)
		}
		switch s.room.kind {
		case wideLens:
			if hfov < 69.9 {
				t.Errorf("%.1f degrees is no wide lens", hfov)
			}
		case poorCamera:
			if v.w != 640 || v.h != 480 || s.sensor.quality != 45 {
				t.Errorf("%d x %d, quality %d", v.w, v.h, s.sensor.quality)
			}
		}
		for _, k := range kinds {
			share := s.believed(k) / s.pieces.of[k].height
			if math.Abs(share-1) > 0.22 {
				t.Errorf("the rig's %v is %.2f of the true one", k, share)
			}
			if share != 1 {
				wrong++
			}
		}
	})
	if wrong == 0 {
		t.Error("no session's rig file is wrong about heights")
	}
}

// TestPeopleStayOutOfSight: nobody who shades the board is in the picture, and
// low lamps' boards are shaded in about half of the pictures.
func TestPeopleStayOutOfSight(t *testing.T) {
	all, shaded := 0, 0
	planned(t, func(t *testing.T, s *session, shots []shot) {
		for _, sh := range shots {
			sheet := sheetFor(s.view.lens, 1) // holds all that the distorted picture shows
			for _, c := range sh.light.people {
				for i := range 5 {
					p := c.a.along(c.b.minus(c.a), float64(i)/4)
					q := sh.view.pose.Apply(framePoint(p))
					if u, v := sheet.at(q.X/q.Z, q.Y/q.Z); q.Z > 1 && u > 0 && v > 0 && u < float64(sheet.w) && v < float64(sheet.h) {
						t.Errorf("%s: a body is at %.0f, %.0f in the picture", sh.truth.Frame, u, v)
					}
				}
			}
			if s.room.kind == lowLamp {
				if all++; len(sh.light.people) > 0 {
					shaded++
				}
			}
		}
	})
	if share := float64(shaded) / float64(all); share < 0.35 || share > 0.65 {
		t.Errorf("%d of %d pictures by a low lamp are shaded", shaded, all)
	}
}
