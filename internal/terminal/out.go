// SPDX-License-Identifier: Apache-2.0

// Package terminal is how a command prints: lines for people or objects for
// programs, and a screen that never makes a game wait.
package terminal

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"

	"golang.org/x/term"
)

// ErrNo says that the command worked and its answer is "no".
var ErrNo = errors.New("no")

// Out is where and how a command prints.
type Out struct {
	W    io.Writer
	Err  io.Writer
	JSON bool
}

// Object prints one JSON object on a line.
func (o *Out) Object(v any) error { return json.NewEncoder(o.W).Encode(v) }

// Printf prints a line for people.
func (o *Out) Printf(format string, a ...any) { _, _ = fmt.Fprintf(o.W, format, a...) }

// Complain prints a line on the error stream.
func (o *Out) Complain(format string, a ...any) {
	_, _ = fmt.Fprintf(o.Err, "boardhand: "+format+"\n", a...)
}

// Shape is how wide the terminal is, in columns, and whether to print in colour;
// zero and no where it is a file or a pipe. NO_COLOR and TERM=dumb are heeded.
func (o *Out) Shape() (columns int, colours bool) {
	f, ok := o.W.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return 0, false
	}
	columns, _, _ = term.GetSize(int(f.Fd())) // 0: unknown
	return columns, os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
}
