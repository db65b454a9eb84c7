// SPDX-License-Identifier: Apache-2.0

package guide

import (
	"bytes"
	"context"
	"fmt"
	"image/jpeg"

	"boardhand/internal/assess/paper"
	"boardhand/internal/bringup"
	"boardhand/internal/commission"
	"boardhand/internal/photo"
	"boardhand/internal/web"
)

// seen is a camera whose pictures the page shows.
type seen struct {
	bringup.Camera
	g *Guide
}

// Look takes a picture.
func (s seen) Look(ctx context.Context) (photo.Picture, error) {
	p, err := s.Camera.Look(ctx)
	if err != nil {
		return p, err
	}
	shown := p.JPEG
	if len(shown) == 0 && p.Image != nil {
		var b bytes.Buffer
		if jpeg.Encode(&b, p.Image, nil) == nil {
			shown = b.Bytes()
		}
	}
	s.g.Publish(web.Event{JPEG: shown})
	return p, nil
}

// show puts the steps on the page, the one named being on now.
func (g *Guide) show(now string) {
	file := g.session.File
	figures, notes := map[string][]web.Figure{}, map[string]commission.Note{}
	for _, l := range commission.Lines(g.parts.Rig, file) {
		f := web.Figure{What: l.What, Unit: l.Unit}
		f.Planned, f.Measured, f.Sigma, f.Allowed = l.Words()
		if l.IsOff() {
			f.Off, f.Cause = true, l.Cause
		}
		figures[l.Step] = append(figures[l.Step], f)
	}
	for _, n := range commission.Notes(file) {
		notes[n.Step] = n
	}
	page := web.BringUp{Now: now, Record: file.Camera != nil || file.Axes != nil, Residuals: g.page.Residuals}
	for _, s := range bringup.Steps {
		n := notes[s.Name]
		step := web.BringUpStep{Name: s.Name, Title: s.Title, Says: s.Says, Moves: s.Moves, When: n.When, Note: n.Text, Figures: figures[s.Name]}
		switch {
		case s.Name == now:
			step.State = "now"
		case s.IsDone(file):
			step.State = "done"
		case g.later[s.Name]:
			step.State = "later"
		}
		page.Steps = append(page.Steps, step)
	}
	page.Residuals = 0
	if len(file.Places) > 0 {
		page.Residuals = g.page.Residuals + 1
	}
	g.page = page
	g.publish()
}

// publish sends the page as it is now.
func (g *Guide) publish() {
	page := g.page
	g.Publish(web.Event{BringUp: &page})
}

// Paper is the drawing of what is left at each place, or the record, as kept last.
func (g *Guide) Paper(name string) (text []byte, kind string, err error) {
	g.mu.Lock()
	file := g.file
	g.mu.Unlock()
	var b bytes.Buffer
	switch {
	case name == "residuals.svg" && len(file.Places) > 0:
		b.WriteString(paper.SVG(commission.Residuals(g.parts.Rig, &file)))
		kind = "image/svg+xml"
	case name == "record.html":
		kind, err = "text/html; charset=utf-8", commission.Record(g.parts.Rig, &file).HTML(&b)
	case name == "record.pdf":
		kind, err = "application/pdf", commission.Record(g.parts.Rig, &file).PDF(&b)
	default:
		err = fmt.Errorf("there is no paper %q yet", name)
	}
	return b.Bytes(), kind, err
}
