// SPDX-License-Identifier: Apache-2.0

package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"
)

// command is one command line of the program, and what it took: medians.
type command struct {
	args             []string
	clock, processor time.Duration
	memory           int64 // bytes
}

func (c command) name() string { return "boardhand " + strings.Join(c.args, " ") }

// measured are the commands, in an order in which each finds what it needs.
var measured = []string{
	"version",
	"new mine",
	"assess mine/rig.toml",
	"magnet --lower 8mm×4mm,N42 --upper 5mm×2mm,N42 --gap 4.9mm",
	"propose --example stock.toml",
	"propose mine/rig.toml --stock stock.toml",
	"sheets mine/rig.toml -o sheets",
	"route --rig mine/rig.toml --move Nf3",
	"think --nodes 1000000",
	"rehearse mine/rig.toml --games 1 --plies 20 --seed 1 --keep evening",
	"watch --rig mine/rig.toml --frames evening/game_001 --jobs 1",
	"watch --rig mine/rig.toml --frames evening/game_001",
}

// commands builds the program and runs each command in a folder of its own; what a
// run leaves behind the next one finds, but for files that are never written over.
func commands(runs int) ([]command, error) {
	dir, err := os.MkdirTemp("", "benchmarks")
	if err != nil {
		return nil, err
	}
	defer func() { _ = os.RemoveAll(dir) }()
	program := filepath.Join(dir, "boardhand")
	if text, err := exec.Command("go", "build", "-trimpath", "-o", program, "./cmd/boardhand").CombinedOutput(); err != nil {
		return nil, fmt.Errorf("go build: %w\n%s", err, text)
	}
	var out []command
	for _, line := range measured {
		c, err := often(runs, program, dir, command{args: strings.Fields(line)})
		if err != nil {
			return nil, fmt.Errorf("boardhand %s: %w", line, err)
		}
		out = append(out, c)
	}
	return out, nil
}

// often runs a command several times and gives it its medians.
func often(runs int, program, dir string, c command) (command, error) {
	var took []command
	for range runs {
		if left := made[strings.Join(c.args[:min(2, len(c.args))], " ")]; left != "" {
			if err := os.RemoveAll(filepath.Join(dir, left)); err != nil {
				return c, err
			}
		}
		one, err := run(program, dir, c.args)
		if err != nil {
			return c, err
		}
		took = append(took, one)
	}
	c.clock = median(took, func(c command) time.Duration { return c.clock })
	c.processor = median(took, func(c command) time.Duration { return c.processor })
	c.memory = median(took, func(c command) int64 { return c.memory })
	return c, nil
}

// made is what a command would refuse to write over, by its first words.
var made = map[string]string{"new mine": "mine", "propose --example": "stock.toml", "rehearse mine/rig.toml": "evening"}

// run runs the program once, from the start of the process to its end.
func run(program, dir string, args []string) (command, error) {
	c := exec.Command(program, args...)
	c.Dir = dir
	began := time.Now()
	if text, err := c.CombinedOutput(); err != nil {
		return command{}, fmt.Errorf("%w\n%s", err, text)
	}
	took := command{clock: time.Since(began), processor: c.ProcessState.UserTime() + c.ProcessState.SystemTime()}
	use, ok := c.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		return command{}, errors.New("this system does not tell what a process took")
	}
	took.memory = use.Maxrss * 1024 // kB on Linux
	return took, nil
}

func median[T cmp.Ordered](of []command, what func(command) T) T {
	values := make([]T, len(of))
	for i, c := range of {
		values[i] = what(c)
	}
	slices.Sort(values)
	return values[len(values)/2]
}
