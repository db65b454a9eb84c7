// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"image"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// picture is linear light, three channels, 1 is white.
type picture struct {
	w, h int
	pix  []float32
}

// studio renders a session's shots in a folder of its own.
type studio struct {
	s     *session
	dir   string
	sheet sheet
	fast  bool
	file  string  // name of povray's input and output
	last  shot    // last one without a hand
	light picture // and its rendering
}

// newStudio writes the parts that stay.
func newStudio(d dice, s *session, dir string) (*studio, error) {
	var b strings.Builder
	b.WriteString("#version 3.7;\nglobal_settings{assumed_gamma 1.0 max_trace_level 3 adc_bailout 0.02}\n")
	for _, k := range kinds {
		b.WriteString(s.pieces.of[k].object(k))
	}
	b.WriteString(s.pieces.white.texture("White_men") + s.pieces.black.texture("Black_men"))
	if s.room == nil { // a room's lights are rendered one by one
		b.WriteString(s.light.object())
	}
	b.WriteString(s.board.object(d, s) + s.props)
	err := os.WriteFile(filepath.Join(dir, "session.inc"), []byte(b.String()), 0o644)
	scale := supersample
	if s.room != nil {
		scale = roomScale
	}
	return &studio{s: s, dir: dir, sheet: sheetFor(s.view.lens, scale), file: "shot"}, err
}

// supersample is the sheet's scale to the picture in its centre: barrel
// distortion shrinks the rim, so the centre needs no more than this.
const supersample = 1.05

// roomScale is the same for rooms, of which more is drawn.
const roomScale = 0.95

// text is povray's input for a shot.
func (st *studio) text(sh shot) string {
	var b strings.Builder
	b.WriteString("#include \"session.inc\"\n")
	r, e := sh.view.pose.R, sh.view.eye()
	axis := func(i int, k float64) vec { return vec{r[i][0] * k, r[i][1] * k, r[i][2] * k} }
	fmt.Fprintf(&b, "camera{perspective location <%.5f,%.5f,%.5f> direction %s up %s right %s}\n",
		e.X, e.Y, e.Z, fine(axis(2, st.sheet.f)), fine(axis(1, -float64(st.sheet.h))), fine(axis(0, float64(st.sheet.w))))
	b.WriteString(objects(sh.pieces, st.s.pieces))
	for _, e := range slices.Concat(sh.things, sh.extra) {
		b.WriteString(e.object())
	}
	return b.String()
}

// fine prints a vector with all the digits a camera needs.
func fine(v vec) string { return fmt.Sprintf("<%.7f,%.7f,%.7f>", v[0], v[1], v[2]) }

// render returns the ideal picture. Only what has changed since the last
// picture without a hand or a shadow is drawn anew.
func (st *studio) render(ctx context.Context, sh shot) (picture, error) {
	text := st.text(sh)
	whole := image.Rect(0, 0, st.sheet.w, st.sheet.h)
	part := whole
	if st.light.pix != nil && sh.view == st.last.view {
		part = st.changed(st.last, sh)
	}
	if part.Empty() {
		return st.light, nil
	}
	p, err := st.trace(ctx, text, part)
	if err != nil {
		return p, err
	}
	if part != whole {
		p = st.light.paste(p, part)
	}
	if sh.extra == nil {
		st.last, st.light = sh, p
	}
	return p, nil
}

// trace runs povray over a part of the sheet.
func (st *studio) trace(ctx context.Context, text string, part image.Rectangle) (picture, error) {
	if st.fast {
		return st.traceWith(ctx, text, part, "-A")
	}
	return st.traceWith(ctx, text, part, "+A0.15", "+AM1", "+R2")
}

// traceWith runs povray with options of one's own.
func (st *studio) traceWith(ctx context.Context, text string, part image.Rectangle, more ...string) (picture, error) {
	if err := os.WriteFile(filepath.Join(st.dir, st.file+".pov"), []byte(text), 0o644); err != nil {
		return picture{}, err
	}
	args := []string{"+I" + st.file + ".pov", "+O" + st.file + ".ppm", "+FP16", "File_Gamma=1.0", "-D", "-GA", "+WT1"}
	for name, n := range map[string]int{"W": st.sheet.w, "H": st.sheet.h, "SC": part.Min.X + 1, "SR": part.Min.Y + 1, "EC": part.Max.X, "ER": part.Max.Y} {
		args = append(args, fmt.Sprintf("+%s%d", name, n))
	}
	args = append(args, more...)
	cmd := exec.CommandContext(ctx, "povray", args...)
	cmd.Dir = st.dir
	var said bytes.Buffer
	cmd.Stderr = &said
	if err := cmd.Run(); err != nil {
		return picture{}, fmt.Errorf("povray (Debian package povray): %w\n%s", err, tail(said.String(), 1500))
	}
	f, err := os.Open(filepath.Join(st.dir, st.file+".ppm"))
	if err != nil {
		return picture{}, err
	}
	defer func() { _ = f.Close() }()
	return readPPM(f)
}

// tail is the end of a text.
func tail(s string, n int) string {
	if len(s) > n {
		return s[len(s)-n:]
	}
	return s
}

// readPPM reads a binary PPM with 16 bits a channel.
func readPPM(r io.Reader) (picture, error) {
	b := bufio.NewReaderSize(r, 1<<20)
	var p picture
	most, err := readHead(b, &p)
	if err != nil || most != 65535 {
		return p, fmt.Errorf("povray's picture is not a P6 with 65535 levels (%d): %w", most, err)
	}
	raw := make([]byte, p.w*p.h*6)
	if _, err := io.ReadFull(b, raw); err != nil {
		return p, fmt.Errorf("povray's picture: %w", err)
	}
	p.pix = make([]float32, p.w*p.h*3)
	for i := range p.pix {
		p.pix[i] = float32(int(raw[2*i])<<8|int(raw[2*i+1])) / 65535
	}
	return p, nil
}

// readHead reads a PPM's head: "P6", width, height, levels, with comments
// from # to the end of the line, then one white space.
func readHead(b *bufio.Reader, p *picture) (int, error) {
	var words [4]string
	for i := 0; i < len(words); {
		c, err := b.ReadByte()
		switch {
		case err != nil:
			return 0, err
		case c == '#':
			if _, err := b.ReadString('\n'); err != nil {
				return 0, err
			}
		case c == ' ' || c == '\n':
			if words[i] != "" {
				i++
			}
		default:
			words[i] += string(c)
		}
	}
	var most int
	_, err := fmt.Sscan(strings.Join(words[1:], " "), &p.w, &p.h, &most)
	if words[0] != "P6" {
		return 0, fmt.Errorf("it begins with %q", words[0])
	}
	return most, err
}
