// SPDX-License-Identifier: Apache-2.0

//go:build linux

package rehearsal_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"boardhand/internal/frame"
	"boardhand/internal/gantry/built"
	"boardhand/internal/gantry/clock"
	"boardhand/internal/gantry/firmware"
	"boardhand/internal/gantry/firmware/settings"
	"boardhand/internal/motion"
	"boardhand/internal/rig"
	"boardhand/internal/twin"
)

// plant is a machine as a computer sees one: a controller on a serial device, whose motors
// move the carriage of the twin, and a camera on the network. The program that plays
// there knows nothing of the twin.
type plant struct {
	t       *testing.T
	world   *twin.World
	motors  *twin.Motors
	machine *built.Machine
	server  *firmware.Server
	port    string // the name that stays, of whatever the device is called now
	plug    *firmware.Terminal
	first   string // what the device was called first
	camera  *httptest.Server
	pulled  chan struct{} // closed once the plug is out
	pull    sync.Once

	// Of the controller; only while it is run.
	now     turning
	moved   time.Duration // when a motor last turned
	carried float64       // mm that pieces have been carried, about

	mu  sync.Mutex
	way []turning // of the motors, on which the world has not followed yet
	at  time.Duration
	is  bool // the world is in a motion
}

// turning is where the motors were at a time, and whether they have come to rest there.
type turning struct {
	at     time.Duration
	to     frame.Spot[frame.Machine]
	lift   float64
	isRest bool
}

// What the machine of the test is: a belt of 2 mm with 20 teeth and 3200 steps a turn is 80
// steps a millimetre. Switches close half a millimetre from the ends.
const (
	stepsPerMM, liftSteps = 80, 400
	travel, drop          = 336.0, 20.0
	zeroAt                = 0.5 + 2 // of each axis, mm from its end
	pace                  = 2       // of the controller's time, of the computer's
	turnEvery             = 10 * time.Millisecond
	restAfter             = 100 * time.Millisecond
	carriedFirst          = 25.0 // mm that pieces are carried before the plug is pulled
)

// newPlant sets the machine up with the pieces of a game about to begin.
func newPlant(t *testing.T) *plant {
	t.Helper()
	p := &plant{t: t, port: filepath.Join(t.TempDir(), "usb-controller"), pulled: make(chan struct{})}
	var err error
	r, err := rig.Parse("rig.toml", []byte(p.rigText("kind = \"twin\" ", "twin")), rig.Machine)
	if err == nil {
		p.world, err = twin.New(r, twin.Options{Seed: 5, Visitor: true})
	}
	if err != nil {
		t.Fatal(err)
	}
	p.motors = p.world.Motors()
	p.now = turning{to: p.motors.At(), isRest: true}
	axis := func(perMM, length, start float64) built.Axis {
		return built.Axis{PerMM: perMM, Length: length + 2*zeroAt, Start: zeroAt + start, SwitchAt: 0.5}
	}
	p.machine = built.New(axis(stepsPerMM, travel, p.now.to.X*1e3), axis(stepsPerMM, travel, p.now.to.Y*1e3), axis(liftSteps, drop, 0))
	set := map[int]float64{settings.SoftLimits: 1, settings.Homing: 1, settings.HomingSide: 7, settings.HomingFeed: 100, settings.HomingSeek: 3000, settings.PullOff: 2,
		100: stepsPerMM, 101: stepsPerMM, 102: liftSteps, 110: 7200, 111: 7200, 112: 2400, 120: 400, 121: 400, 122: 400, 130: travel + 2, 131: travel + 2, 132: drop + 4}
	p.server = firmware.NewServer(firmware.New(outputs{firmware.Motors{Machine: p.machine}, p}, firmware.Options{Settings: set}), clock.New(pace))
	p.camera = httptest.NewServer(http.HandlerFunc(p.pictures))
	p.plugIn()
	p.first = p.plug.Name
	go p.rest(t.Context().Done())
	t.Cleanup(func() {
		p.camera.CloseClientConnections()
		p.camera.Close()
		_ = p.plug.Close()
	})
	return p
}

// rigText is what the maker writes of it.
func (p *plant) rigText(controller, source string) string {
	return strings.NewReplacer(`drive = "rack"`, "drive = \"belt\"\npitch = \"2 mm\"", "teeth = 16", "teeth = 20", "module = \"1 mm\"\n", "",
		"counts = 360 ", "counts = 3200 ", "counts = 360\n", "counts = 3200\n", `time = "1 s" `, `time = "0.1 s" `,
		`source = "twin" `, fmt.Sprintf("source = %q ", source), `kind = "twin" `, controller).Replace(rig.DefaultText)
}

// plugIn puts the controller on the computer, by whatever name the system gives it now.
func (p *plant) plugIn() {
	p.server.Do(func(f *firmware.Firmware) { f.Power() })
	plug, err := firmware.OpenTerminal(p.server)
	if err == nil {
		_ = os.Remove(p.port) // the first time it is not there
		err = os.Symlink(plug.Name, p.port)
	}
	if err != nil {
		p.t.Fatal(err)
	}
	p.plug = plug
}

// outputs are the controller's: the machine's motors, which turn the twin's.
type outputs struct {
	firmware.Motors
	plant *plant
}

// Step turns the motors.
func (o outputs) Step(counts [3]int64, at time.Duration) {
	o.Motors.Step(counts, at)
	o.plant.step(at)
}

// step notes where the motors are, every few milliseconds of the controller's time: the
// world follows when it has time, the controller never waits for it.
func (p *plant) step(now time.Duration) {
	if p.moved = now; p.now.isRest || now-p.now.at >= turnEvery {
		p.note(now, false)
	}
}

// note notes where the motors are; a carry that has come some way has the plug pulled, once.
func (p *plant) note(now time.Duration, isRest bool) {
	was := p.now
	p.now = turning{at: now, isRest: isRest, lift: min(1, max(0, (p.machine.Axis(2)-zeroAt)/drop)),
		to: frame.Spot[frame.Machine]{X: (p.machine.Axis(0) - zeroAt) / 1e3, Y: (p.machine.Axis(1) - zeroAt) / 1e3}}
	if p.now.lift > 0.99 {
		p.now.lift = 1
		if p.carried += 1e3 * p.now.to.Distance(was.to); p.carried > carriedFirst {
			p.pull.Do(func() { go p.pullPlug() })
		}
	}
	p.mu.Lock()
	p.way = append(p.way, p.now)
	p.mu.Unlock()
}

// follow has the world follow the motors to where they were noted last.
func (p *plant) follow() {
	p.mu.Lock()
	way := p.way
	p.way = nil
	p.mu.Unlock()
	for _, w := range way {
		if !p.is {
			p.is, p.at = true, w.at
			p.motors.Begin(motion.Stroke{})
		}
		p.motors.Turn(w.to, w.lift, (w.at - p.at).Seconds())
		if p.at = w.at; w.isRest {
			p.motors.End()
			p.is = false
		}
	}
}

// pullPlug takes the device away in the middle of what it does.
func (p *plant) pullPlug() {
	if err := p.plug.Close(); err != nil {
		p.t.Error(err)
	}
	close(p.pulled)
}

// rest notes that the motors have stood for a while.
func (p *plant) rest(over <-chan struct{}) {
	for {
		select {
		case <-over:
			return
		case <-time.After(restAfter / pace):
		}
		p.server.Do(func(f *firmware.Firmware) {
			if now := f.Now(); !p.now.isRest && now-p.moved > restAfter {
				p.note(now, true)
			}
		})
	}
}

// pictures is the camera, which sends motion JPEG as long as somebody looks: each shows the
// world where the motors have brought it.
func (p *plant) pictures(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "multipart/x-mixed-replace; boundary=picture")
	for r.Context().Err() == nil {
		p.follow()
		pic, err := p.world.Camera().Look(r.Context())
		if err != nil {
			return
		}
		_, err = fmt.Fprintf(w, "--picture\r\nContent-Type: image/jpeg\r\nContent-Length: %d\r\n\r\n%s\r\n", len(pic.JPEG), pic.JPEG)
		if err != nil {
			return
		}
		w.(http.Flusher).Flush()
		time.Sleep(pictureEvery)
	}
}

// pictureEvery is the time between two pictures: few enough that a busy computer keeps up.
const pictureEvery = 100 * time.Millisecond
