// SPDX-License-Identifier: Apache-2.0

package gantry_test

import (
	"os"
	"strings"
	"testing"

	"boardhand/internal/draw"
)

// plan is a wiring plan under way.
type plan struct{ *draw.Drawing }

// part draws a part as a box with its name and what is to be known of it.
func (p plan) part(x, y, w, h float64, name string, lines ...string) {
	p.Line([]float64{x, x + w, x + w, x, x}, []float64{y, y, y + h, y + h, y}, draw.Outline)
	p.Write(draw.Word{X: x + 2, Y: y + 4.6, Text: name, Size: 3.4, Bold: true})
	for i, text := range lines {
		p.Write(draw.Word{X: x + 2, Y: y + 9.2 + 4.2*float64(i), Text: text, Size: 2.9})
	}
}

// wire draws a wire through places; pairs are x, y.
func (p plan) wire(i draw.Ink, pairs ...float64) {
	var x, y []float64
	for k := 0; k+1 < len(pairs); k += 2 {
		x, y = append(x, pairs[k]), append(y, pairs[k+1])
	}
	p.Line(x, y, i)
}

// say writes a small word in the middle of a place.
func (p plan) say(x, y float64, text string) {
	p.Write(draw.Word{X: x, Y: y, Text: text, Size: 2.7, At: draw.Middle})
}

// opener draws a contact that opens the way of a wire, from left to right.
func (p plan) opener(x, y float64) {
	p.Circle(x, y, 0.8, draw.Fine)
	p.Circle(x+8, y, 0.8, draw.Fine)
	p.wire(draw.Outline, x+0.7, y-0.4, x+7.4, y-3.2)
}

// fuse draws a fuse in a wire from left to right.
func (p plan) fuse(x, y float64) {
	p.wire(draw.Fine, x, y-1.4, x+8, y-1.4, x+8, y+1.4, x, y+1.4, x, y-1.4)
}

// motor draws a motor.
func (p plan) motor(x, y float64, name, text string) {
	p.Circle(x, y, 5, draw.Outline)
	p.Write(draw.Word{X: x, Y: y + 1.2, Text: "M", Size: 3.6, At: draw.Middle, Bold: true})
	p.Write(draw.Word{X: x + 7, Y: y - 0.4, Text: name, Size: 3, Bold: true})
	p.Write(draw.Word{X: x + 7, Y: y + 3.6, Text: text, Size: 2.7})
}

// supply draws the way from the supply over fuse and switch to a place.
func (p plan) supply(y, to float64, what, volts string) {
	p.part(4, y, 40, 17, what, volts, "bought whole, tested")
	p.wire(draw.Outline, 44, y+8, 52, y+8)
	p.fuse(52, y+8)
	p.say(56, y+13.4, "fuse")
	p.wire(draw.Outline, 60, y+8, 69.2, y+8)
	p.opener(70, y+8)
	p.say(74, y+13.4, "stop switch,")
	p.say(74, y+17, "within reach")
	p.wire(draw.Outline, 78.8, y+8, to, y+8)
}

// lineWiring is how a G-code controller is wired.
func lineWiring() *draw.Drawing {
	p := plan{&draw.Drawing{W: 186, H: 124}}
	p.Tone([]float64{0, 186, 186, 0}, []float64{0, 0, 124, 124}, draw.Light)
	p.Write(draw.Word{X: 4, Y: 8, Text: "A G-code controller", Size: 4.6, Bold: true})
	p.part(4, 16, 40, 22, "Computer", "boardhand play", "group dialout: port", "group video: camera")
	p.part(4, 50, 40, 13, "Camera", "over the board")
	p.wire(draw.Fine, 24, 50, 24, 38)
	p.say(29, 45.5, "USB")
	p.part(96, 16, 34, 64, "Controller", "line protocol 1.1", "115200 baud")
	p.wire(draw.Fine, 44, 27, 96, 27)
	p.say(70, 25.4, "USB: controller.port")
	p.wire(draw.Hidden, 96, 45, 60, 45, 60, 52)
	p.part(49, 52, 40, 26, "Home switches", "x, y: low ends", "z: lowered end", "open when reached", "($5=1), screened")
	p.wire(draw.Fine, 130, 24, 143, 24)
	p.motor(148, 24, "x", "rail under the board")
	p.wire(draw.Fine, 130, 40, 143, 40)
	p.motor(148, 40, "y", "across it")
	p.wire(draw.Fine, 130, 56, 143, 56)
	p.motor(148, 56, "z: the lift", `lift = "axis"`)
	p.Write(draw.Word{X: 134, Y: 69, Text: `or M3 S…: servo ("spindle")`, Size: 2.7})
	p.Write(draw.Word{X: 134, Y: 73, Text: `or M8: relay with a diode ("coolant")`, Size: 2.7})
	p.supply(90, 113, "Adapter", "12–24 V DC")
	p.wire(draw.Outline, 113, 98, 113, 80)
	p.say(122, 90, "motor supply")
	p.Write(draw.Word{X: 96, Y: 112, Text: "Never plug a motor in or out while the supply is on.", Size: 3, Signal: true})
	p.Write(draw.Word{X: 96, Y: 117, Text: "Set each driver's current to the motor's.", Size: 3, Signal: true})
	return p.Drawing
}

// tachoWiring is how tacho motors are wired.
func tachoWiring() *draw.Drawing {
	p := plan{&draw.Drawing{W: 186, H: 124}}
	p.Tone([]float64{0, 186, 186, 0}, []float64{0, 0, 124, 124}, draw.Light)
	p.Write(draw.Word{X: 4, Y: 8, Text: "Tacho motors", Size: 4.6, Bold: true})
	p.part(84, 16, 44, 64, "Computer", "with motor ports", "boardhand play", "/sys/class/tacho-motor", "may be written by the user", "group video: camera")
	p.part(4, 22, 40, 13, "Camera", "over the board")
	p.wire(draw.Fine, 44, 28, 84, 28)
	p.say(64, 26.4, "USB")
	p.part(4, 48, 50, 22, "No switches", "x, y press against their low", "ends, the lift against its lower", "end: fit stops that bear it")
	for i, m := range [4][3]string{{"outA", "x", `x = "outA"`}, {"outB", "y, right", `y = "outB, -outC"`}, {"outC", "y, left", "turns the other way"}, {"outD", "lift", `lift = "outD"`}} {
		y := 24.0 + 16*float64(i)
		p.wire(draw.Fine, 128, y, 143, y)
		p.say(135.5, y-1.4, m[0])
		p.motor(148, y, m[1], m[2])
	}
	p.supply(90, 106, "Battery or adapter", "as the maker says")
	p.wire(draw.Outline, 106, 98, 106, 80)
	p.Write(draw.Word{X: 86, Y: 112, Text: "The stop switch cuts the motors' supply, not the computer's,", Size: 3, Signal: true})
	p.Write(draw.Word{X: 86, Y: 117, Text: "where both can be had apart.", Size: 3, Signal: true})
	return p.Drawing
}

// The drawings of the manual are those that are drawn here, and no word leaves its sheet.
func TestWiringDrawings(t *testing.T) {
	for file, d := range map[string]*draw.Drawing{"wiring-gcode.svg": lineWiring(), "wiring-tacho.svg": tachoWiring()} {
		if b := d.Bounds(); !b.Within(draw.Rect{X1: d.W, Y1: d.H}) {
			t.Errorf("%s leaves its sheet: %+v", file, b)
		}
		path, want := "../../docs/"+file, d.SVG()
		if os.Getenv("BOARDHAND_ACCEPT") != "" {
			if err := os.WriteFile(path, []byte(want), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != want {
			t.Errorf("docs/%s is not what is drawn (%v): BOARDHAND_ACCEPT=1 go test ./internal/gantry -run Wiring", file, err)
		}
		page, err := os.ReadFile("../../docs/first-month.md")
		if err != nil || !strings.Contains(string(page), "("+file+")") {
			t.Errorf("docs/first-month.md does not show %s (%v)", file, err)
		}
	}
}
