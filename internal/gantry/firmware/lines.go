// SPDX-License-Identifier: Apache-2.0

package firmware

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"boardhand/internal/gantry/firmware/modal"
	"boardhand/internal/gantry/firmware/settings"
	"boardhand/internal/gantry/firmware/words"
)

// work does what can be done without time passing.
func (f *Firmware) work() {
	for !f.mustReset && f.state != asleep && f.now >= f.until {
		if len(f.todo) > 0 {
			if !f.todo[0]() {
				return
			}
			if len(f.todo) > 0 { // else an alarm or a reset has ended it
				f.todo = f.todo[1:]
			}
			continue
		}
		if f.isBusy {
			f.isBusy = false
			f.say("ok")
		}
		line, isLong, ok := f.wire.nextLine()
		if !ok {
			return
		}
		f.count.Lines++
		err := f.begun(line, isLong)
		if err != nil {
			f.count.Faults++
			f.say(err.Error())
		}
	}
}

// begun begins a line: its parts wait in todo. An error is a words.Fault.
func (f *Firmware) begun(line string, isLong bool) error {
	text := words.Strip(line)
	switch {
	case isLong:
		return words.LineTooLong
	case strings.HasPrefix(text, "$"):
		return f.command(text)
	case text == "":
		f.isBusy = true
		return nil
	case f.state == alarmed || f.state == jogging:
		return words.Locked
	}
	l, err := words.Parse(text)
	if err != nil {
		return err
	}
	todo, err := f.modal.Interpret(l)
	if err != nil {
		return err
	}
	f.isBusy = true
	for _, c := range todo {
		f.todo = append(f.todo, f.part(c))
	}
	return nil
}

// part is one command of a line: true when it has been done.
func (f *Firmware) part(c modal.Command) func() bool {
	if f.state == check {
		return func() bool { return true }
	}
	if c.Kind == modal.Move {
		return func() bool { return f.plan(c) }
	}
	return f.synced(func() bool {
		f.run.synced = true
		switch c.Kind {
		case modal.Dwell:
			f.until = f.now + time.Duration(c.Seconds*float64(time.Second))
		case modal.Spindle:
			f.axes.Spindle(f.capped(c.Speed), f.now)
		case modal.Coolant:
			f.axes.Flood(c.Flood, f.now)
		case modal.Pause:
			f.hold()
		case modal.End:
			f.override(100, 100)
			f.say("[MSG:Pgm End]")
		case modal.Store:
			f.write()
		}
		return true
	})
}

// synced does a thing when all motion has ended and nothing is held.
func (f *Firmware) synced(do func() bool) func() bool {
	return func() bool { return f.queue.Len() == 0 && f.state != held && f.state != door && do() }
}

// capped is a spindle speed within the settings.
func (f *Firmware) capped(v float64) float64 {
	most, least := f.set[settings.SpindleMax], f.set[settings.SpindleMin]
	switch {
	case v > 0:
		return min(most, max(least, v))
	case v < 0:
		return -min(most, max(least, -v))
	}
	return 0
}

// write keeps something in the lasting memory: for a while no byte is heard.
func (f *Firmware) write() { f.writing = f.now + writeTime; f.until = f.writing }

// command does a line that begins with $.
func (f *Firmware) command(text string) error {
	isStill := f.state == idle || f.state == alarmed
	switch {
	case strings.HasPrefix(text, "$J="):
		return f.jog(text[3:])
	case text == "$X":
		return f.unlock()
	case text == "$H":
		return f.beginHoming()
	case text == "$":
		f.say("[HLP:$$ $# $G $I $N $x=val $Nx=line $J=line $SLP $C $X $H ~ ! ? ctrl-x]")
	case text == "$G":
		f.say(f.modes())
	case text == "$C" && f.state == check:
		f.isBusy = true
		f.reset()
		f.say("[MSG:Disabled]")
		return nil
	case !isStill:
		return words.NotIdle
	case text == "$C" && f.state == idle:
		f.state = check
		f.say("[MSG:Enabled]")
	case text == "$SLP":
		f.sleep()
	default:
		return f.memory(text)
	}
	f.isBusy = true
	return nil
}

// memory does the $ commands that read or write what lasts.
func (f *Firmware) memory(text string) error {
	switch {
	case text == "$$":
		f.sayAll(f.set.Lines())
	case text == "$#":
		f.sayAll(f.parameters())
	case text == "$I":
		f.sayAll([]string{"[VER:1.1f.20170801:]", "[OPT:VL,16,128]"})
	case text == "$N":
		for i, l := range f.startup {
			f.say(fmt.Sprintf("$N%d=%s", i, l))
		}
	case strings.HasPrefix(text, "$N0=") || strings.HasPrefix(text, "$N1="):
		if _, err := words.Parse(text[4:]); err != nil {
			return err
		}
		f.startup[text[2]-'0'] = text[4:]
		f.write()
	case strings.HasPrefix(text, "$RST="):
		return f.restore(text[5:])
	case strings.Contains(text, "="):
		if err := f.set.Set(text[1:]); err != nil {
			return err
		}
		f.queue.SetLimits(f.set.Limits())
		f.modal.Tolerance = f.set[settings.ArcTolerance]
		f.write()
	default:
		return words.UnknownSetting
	}
	f.isBusy = true
	return nil
}

// restore puts lasting values back to what they were when the controller was new.
func (f *Firmware) restore(what string) error {
	switch what {
	case "$":
		f.set = settings.New(f.options.Settings)
	case "#":
		f.modal.Systems, f.modal.Stored = modal.State{}.Systems, modal.State{}.Stored
	case "*":
		f.set, f.startup = settings.New(f.options.Settings), [2]string{}
		f.modal.Systems, f.modal.Stored = modal.State{}.Systems, modal.State{}.Stored
	default:
		return words.UnknownSetting
	}
	f.queue.SetLimits(f.set.Limits())
	f.write()
	f.isBusy = true
	return nil
}

// startLine runs a start-up line and tells of it; its answer counts for no line sent.
func (f *Firmware) startLine(line string) []func() bool {
	return []func() bool{func() bool {
		err := f.begun(line, false)
		f.isBusy = false
		var fault words.Fault
		answer := "ok"
		if errors.As(err, &fault) {
			answer = fault.Error()
		}
		f.say(">" + line + ":" + answer)
		return true
	}}
}

func (f *Firmware) sayAll(lines []string) {
	for _, l := range lines {
		f.say(l)
	}
}
