// SPDX-License-Identifier: Apache-2.0

package gcode

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"time"

	"boardhand/internal/frame"
)

// Home resets the controller, compares its settings with the rig file before
// anything moves, lowers the lift, has the axes find their switches and returns
// where the carriage is. It opens the wire, and opens it anew after it broke.
func (g *Gantry) Home(ctx context.Context) (frame.Spot[frame.Machine], error) {
	ctx, end, err := g.latch.Begin(ctx, true)
	if err != nil {
		return g.here(), err
	}
	defer end()
	g.release()
	if err := g.home(ctx); err != nil {
		return g.here(), g.unhomed(ctx, err)
	}
	return g.here(), g.latch.Homed()
}

// unhomed notes why homing failed; one broken off leaves no axis running.
func (g *Gantry) unhomed(ctx context.Context, err error) error {
	if cause := context.Cause(ctx); cause != nil {
		err = cause
	}
	g.latch.Distrust(err)
	g.mu.Lock()
	l := g.link
	g.mu.Unlock()
	if l != nil {
		l.fail(err)
	}
	return err
}

func (g *Gantry) home(ctx context.Context) error {
	l, err := g.connect()
	if err != nil {
		return err
	}
	if err := l.restart(ctx); err != nil {
		return err
	}
	set, blocks, err := g.inquire(ctx, l)
	if err != nil {
		return err
	}
	if err := g.expected.compare(set); err != nil {
		return err
	}
	if err := g.lowerFirst(ctx, l); err != nil {
		return err
	}
	if _, err := l.ask(ctx, "$H", homingTime(set)); err != nil {
		return err
	}
	s, err := l.query(ctx)
	if err != nil {
		return err
	}
	if s.state != "Idle" {
		return fmt.Errorf("the controller says %q after homing: clear what holds it, then home", s.state)
	}
	g.settle(set, blocks, s)
	_, err = l.ask(ctx, "G21G90G94", patience)
	return err
}

// Open opens the wire without waiting for the first Home; nothing moves.
func (g *Gantry) Open() error {
	_, err := g.connect()
	return err
}

// connect is the link to the controller, opened if there is none or it broke.
func (g *Gantry) connect() (*link, error) {
	g.mu.Lock()
	l := g.link
	g.mu.Unlock()
	if l != nil {
		l.mu.Lock()
		isLost := l.isLost
		l.mu.Unlock()
		if !isLost {
			return l, nil
		}
	}
	wire, err := g.open()
	if err != nil {
		return nil, err
	}
	l = newLink(wire, g.distrust)
	g.mu.Lock()
	g.link = l
	g.mu.Unlock()
	return l, nil
}

// inquire asks for the sizes of the buffers and for the settings.
func (g *Gantry) inquire(ctx context.Context, l *link) (settings, int, error) {
	notes, err := l.ask(ctx, "$I", patience)
	if err != nil {
		return nil, 0, err
	}
	blocks := bufferBlocks
	for _, n := range notes {
		if opt, ok := strings.CutPrefix(n.text, "OPT:"); ok {
			if b, bytes, ok := parseSizes(opt); ok {
				blocks = min(b, bufferBlocks) // of 16 told, one stays empty
				l.resize(bytes)
			}
		}
	}
	notes, err = l.ask(ctx, "$$", patience)
	if err != nil {
		return nil, 0, err
	}
	set := settings{}
	for _, n := range notes {
		if v, ok := parseNumber(n.text); ok && n.kind == isSetting {
			set[n.number] = v
		}
	}
	return set, blocks, nil
}

// parseSizes reads "VL,16,128": the planner's blocks and the bytes received.
func parseSizes(opt string) (blocks, bytes int, ok bool) {
	p := strings.Split(opt, ",")
	if len(p) < 3 {
		return 0, 0, false
	}
	blocks, err := strconv.Atoi(p[1])
	bytes, err2 := strconv.Atoi(p[2])
	return blocks, bytes, err == nil && err2 == nil && blocks >= leastBlocks && bytes >= leastBytes
}

// homingTime is the longest that homing may take: every axis by itself searches
// 1.5 times its travel, and locates within 5 times what it backs off. Source: the
// firmware's published interface description.
func homingTime(s settings) time.Duration {
	minutes := 0.0
	for i := range 3 {
		minutes += 1.5*s[setTravel+i]/max(1, s[setSeek]) + 10*s[setPullOff]/max(1, s[setLocate])
	}
	return time.Duration(minutes*float64(time.Minute)) + homingMargin
}

// settle takes over where homing left the axes, backed off from their switches:
// there the rig's axes are zero.
func (g *Gantry) settle(set settings, blocks int, s status) {
	e := g.expected
	w := writer{planner: set.planner(blocks), axes: e.bounds(), steps: [2]float64{set[setSteps] * 1e3, set[setSteps+1] * 1e3}, baud: g.baud}
	w.zero = [2]float64{s.at[0] / 1e3, s.at[1] / 1e3}
	up := 1.0 // away from the switch
	if int(set[setDirection])&4 == 0 {
		up = -1
	}
	g.mu.Lock()
	g.writer, g.lowered = w, s.at[2]/1e3
	g.raised = g.lowered + up*e.drop
	g.at = spot{}
	g.mu.Unlock()
}
