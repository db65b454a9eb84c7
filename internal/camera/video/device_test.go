// SPDX-License-Identifier: Apache-2.0

package video

import (
	"bytes"
	"errors"
	"os"
	"slices"
	"strings"
	"testing"
)

// The numbers of the requests as linux/videodev2.h computes them on a machine of 64
// bits (printed by a C program that includes it).
func TestRequestsAreTheKernels(t *testing.T) {
	if wordBytes != 8 {
		t.Skip("for a machine of 64 bits")
	}
	for r, want := range map[request]uint32{
		queryCapability: 0x80685600, enumFormat: 0xc0405602, setFormat: 0xc0d05605, requestBuffers: 0xc0145608, queryBuffer: 0xc0585609,
		queueBuffer: 0xc058560f, dequeueBuffer: 0xc0585611, streamOn: 0x40045612, streamOff: 0x40045613, setParm: 0xc0cc5616,
		getControl: 0xc008561b, setControl: 0xc008561c, queryControl: 0xc0445624, enumFrameSize: 0xc02c564a, enumInterval: 0xc034564b,
	} {
		if uint32(r) != want {
			t.Errorf("%08x, want %08x", uint32(r), want)
		}
	}
	for name, c := range map[string][2]int{"memory": {bufMemory, 60}, "offset": {bufOffset, 64}, "length": {bufLength, 72}, "size": {bufferSize, 88}} {
		if c[0] != c[1] {
			t.Errorf("v4l2_buffer: %s at %d, want %d", name, c[0], c[1])
		}
	}
}

// One picture after another comes, whole ones only, and each buffer goes back.
func TestPicturesCome(t *testing.T) {
	drv := newDriver([]byte("first"), []byte("second one"), []byte("3"))
	drv.broken = 2
	d, err := Start(drv, "test", Wish{1280, 720, 15})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for range 9 {
		f, err := d.Next(0)
		if err != nil || f.Format != MJPG {
			t.Fatal(f.Format, err)
		}
		got = append(got, string(f.Data))
	}
	if want := "3 first second one 3 first second one 3 first second one"; strings.Join(got, " ") != want {
		t.Errorf("%q", got)
	}
	if d.Card != "Eye of the test" || d.Rate != 15 || len(d.Refused) > 0 {
		t.Errorf("%q, %g a second, %q", d.Card, d.Rate, d.Refused)
	}
	if err := d.Close(); err != nil || drv.on || !drv.closed {
		t.Errorf("%v; still on: %v", err, drv.on)
	}
}

func TestWhatACameraCannotDo(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*driver)
		wish   Wish
		want   string
	}{
		"no capture": {func(d *driver) { d.can = canStream }, Wish{640, 480, 0}, "sends no pictures here"},
		"no format": {func(d *driver) { d.offers = map[Format][]Size{order[2]: {{640, 480}}} }, Wish{640, 480, 0},
			"neither motion JPEG nor YUYV, but H264"},
		"no such size": {func(*driver) {}, Wish{1000, 700, 0},
			"no pictures of 1000 × 700: set camera.image to a size that it has: MJPG 1280 × 720 to 30 a second, 640 × 480 to 30 a second; YUYV 640 × 480"},
	} {
		drv := newDriver([]byte("x"))
		c.change(drv)
		_, err := Start(drv, "/dev/video7", c.wish)
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "camera /dev/video7: ") {
			t.Errorf("%s: %v", name, err)
		}
		if !drv.closed {
			t.Errorf("%s: it was left open", name)
		}
	}
}

func TestACameraThatFails(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*driver)
		want   error
	}{
		"silent":    {func(d *driver) { d.silent = true }, ErrSilent},
		"unplugged": {func(d *driver) { d.gone = 1 }, errGone},
		"bad cable": {func(d *driver) { d.broken = 1e6 }, errBroken},
	} {
		drv := newDriver([]byte("x"))
		c.change(drv)
		d, err := Start(drv, "test", Wish{640, 480, 0})
		for range 3 {
			if err == nil {
				_, err = d.Next(0)
			}
		}
		if !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What regulates itself is switched off and keeps what it had found; what the driver
// does not let be set is said.
func TestHold(t *testing.T) {
	drv := newDriver([]byte("x"))
	drv.fixed, drv.refuses = true, map[uint32]bool{0x0098090c: true}
	d, err := Start(drv, "test", Wish{640, 480, 30})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Hold(); err != nil || !slices.Equal(d.Told().Held, []string{"exposure"}) {
		t.Errorf("held %q, %v", d.Held, err)
	}
	if want := []string{"it does not let its rate be set", "it goes on regulating its white balance by itself"}; !slices.Equal(d.Refused, want) {
		t.Errorf("refused %q", d.Refused)
	}
	if drv.controls[0x009a0901] != 1 || drv.controls[0x009a0902] != 250 || drv.controls[0x009a0903] != 0 {
		t.Errorf("controls are %v", drv.controls)
	}
}

// A session as it was recorded, request by request, is played back to the byte.
func TestPlayback(t *testing.T) {
	const path = "testdata/device.log"
	if wordBytes != 8 {
		t.Skip("recorded on a machine of 64 bits")
	}
	var log bytes.Buffer
	run := func(k Kernel) {
		d, err := Start(k, "test", Wish{640, 480, 7.5})
		if err != nil {
			t.Fatal(err)
		}
		for range 5 {
			if _, err := d.Next(0); err != nil {
				t.Fatal(err)
			}
		}
		if err := d.Hold(); err != nil || len(d.Held) != 2 {
			t.Error(d.Held, err)
		}
		_ = d.Close()
	}
	run(Recorder{newDriver([]byte("one"), []byte("two")), &log})
	if os.Getenv("BOARDHAND_ACCEPT") == "1" {
		if err := os.WriteFile(path, log.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(kept, log.Bytes()) {
		t.Fatalf("what is asked of a device has changed (%v): look at it, then BOARDHAND_ACCEPT=1 go test", err)
	}
	p, err := NewPlayback(bytes.NewReader(kept))
	if err != nil {
		t.Fatal(err)
	}
	run(p)
	if p.next != len(p.lines) {
		t.Errorf("%d lines of the recording were not played", len(p.lines)-p.next)
	}
	if q, _ := NewPlayback(bytes.NewReader(kept)); q != nil {
		if _, err := Start(q, "test", Wish{1280, 720, 7.5}); err == nil || !strings.Contains(err.Error(), "of the recording is") {
			t.Errorf("another size was played: %v", err)
		}
	}
}
