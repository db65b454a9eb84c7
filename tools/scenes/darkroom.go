// SPDX-License-Identifier: Apache-2.0

package main

import (
	"context"
	"errors"
	"fmt"
	"image"
	"slices"
	"strings"
	"sync"
)

// layer is a room's picture by some of its lights alone, at full power.
type layer struct {
	lamps []int // of the session's key lamps
	fill  bool  // what the room throws back, and the sky in mirrors
	last  shot  // without a hand
	sheet picture
}

// darkroom renders a room's layers and puts pictures together from them:
// light is linear.
type darkroom struct {
	st      *studio
	layers  []*layer
	isFlat  bool          // nothing depends on the place in the room
	plain   picture       // the last picture without a hand, put together
	still   shot          // and what it shows
	exposed chan exposure // layers of the shots to come
}

// exposure is a shot's layers; those that are not lit are empty.
type exposure struct {
	lit []picture
	err error
}

// newDarkroom parts the lights that change from each other, and begins to
// render the shots' layers ahead.
func newDarkroom(ctx context.Context, st *studio, shots []shot) *darkroom {
	r := &darkroom{st: st, exposed: make(chan exposure, 1)}
	switch st.s.room.kind {
	case lowLamp, lampSwitched, movingGlare, sunBars:
		for i := range st.s.light.key {
			r.layers = append(r.layers, &layer{lamps: []int{i}})
		}
		r.layers = append(r.layers, &layer{fill: true})
	default:
		all := &layer{fill: true}
		for i := range st.s.light.key {
			all.lamps = append(all.lamps, i)
		}
		r.layers = append(r.layers, all)
		r.isFlat = st.s.room.kind == wideLens || st.s.room.kind == bothHands
	}
	go r.exposeAll(ctx, shots)
	return r
}

// exposeAll renders all shots' layers in order.
func (r *darkroom) exposeAll(ctx context.Context, shots []shot) {
	defer close(r.exposed)
	for _, sh := range shots {
		e := r.expose(ctx, sh)
		select {
		case r.exposed <- e:
		case <-ctx.Done():
			return
		}
		if e.err != nil {
			return
		}
	}
}

// expose renders the layers that are lit in a shot, beside each other: most of
// a small part's time povray waits.
func (r *darkroom) expose(ctx context.Context, sh shot) exposure {
	e := exposure{lit: make([]picture, len(r.layers))}
	errs := make([]error, len(r.layers))
	text := r.st.text(sh) + r.st.mask(sh.view)
	var wait sync.WaitGroup
	for i, l := range r.layers {
		if len(l.lamps) == 1 && !l.fill && sh.light.lamps[l.lamps[0]] == 0 {
			continue
		}
		wait.Go(func() {
			st := *r.st
			st.file = fmt.Sprintf("layer%d", i)
			e.lit[i], errs[i] = r.bring(ctx, &st, l, order{sh, text})
		})
	}
	wait.Wait()
	e.err = errors.Join(errs...)
	return e
}

// dimming is how much darker layers are rendered than they are: povray's
// picture ends at 1, gloss and what stands near a lamp do not.
const dimming = 0.4

// text is povray's input for a layer's lights.
func (r *darkroom) text(l *layer) string {
	var b strings.Builder
	for _, i := range l.lamps {
		k := r.st.s.light.key[i]
		grid := "5,5 adaptive 0"
		if isFaint := r.st.s.room.kind == sunBars && i == 1; isFaint || k.size < 0.08*k.distance {
			grid = "3,3 adaptive 0"
		}
		b.WriteString(k.object(grid, dimming))
	}
	if l.fill {
		b.WriteString(r.st.s.light.room(dimming))
	}
	return b.String()
}

// render puts a shot's picture together from its layers; shots come in order.
func (r *darkroom) render(ctx context.Context, sh shot) (picture, error) {
	e, ok := <-r.exposed
	if !ok || e.err != nil {
		return picture{}, errors.Join(e.err, ctx.Err())
	}
	p := r.compose(sh, e.lit)
	if sh.light.smear != ([2]float64{}) {
		return r.smeared(sh, p), nil
	}
	if sh.extra == nil {
		r.plain, r.still = p, sh
	}
	return p, nil
}

// order is a shot and povray's text of it but the lights.
type order struct {
	shot
	text string
}

// bring renders what has changed in a layer and returns it; only pictures
// without a hand are kept.
func (r *darkroom) bring(ctx context.Context, st *studio, l *layer, o order) (picture, error) {
	parts := []image.Rectangle{image.Rect(0, 0, st.sheet.w, st.sheet.h)}
	out := picture{}
	if l.sheet.pix != nil && o.view == l.last.view {
		parts = r.changed(l, o.shot)
		out = picture{w: l.sheet.w, h: l.sheet.h, pix: slices.Clone(l.sheet.pix)}
	}
	options := []string{"+A0.3", "+AM1", "+R2"}
	if st.fast {
		options = []string{"-A"}
	}
	text := o.text + r.text(l)
	for _, part := range parts {
		p, err := st.traceWith(ctx, text, part, options...)
		if err != nil {
			return p, err
		}
		if out.pix == nil {
			out = p
			continue
		}
		out.take(p, part)
	}
	if o.extra == nil {
		l.last, l.sheet = o.shot, out
	}
	return out, nil
}

// take copies a part of another picture.
func (p picture) take(from picture, r image.Rectangle) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		i, j := (y*p.w+r.Min.X)*3, (y*p.w+r.Max.X)*3
		copy(p.pix[i:j], from.pix[i:j])
	}
}

// changed are the parts of a layer that its last picture shows otherwise,
// joined where that makes less to draw.
func (r *darkroom) changed(l *layer, sh shot) []image.Rectangle {
	var lamps []lamp
	for _, i := range l.lamps {
		lamps = append(lamps, r.st.s.light.key[i])
	}
	var parts []image.Rectangle
	add := func(f func(o *outline)) {
		o := outline{st: r.st, v: sh.view, lamps: lamps}
		f(&o)
		if p := o.Inset(-margin).Intersect(image.Rect(0, 0, r.st.sheet.w, r.st.sheet.h)); !o.Rectangle.Empty() && !p.Empty() {
			parts = append(parts, p)
		}
	}
	for _, pair := range [2][2][]piece{{l.last.pieces, sh.pieces}, {sh.pieces, l.last.pieces}} {
		for _, m := range pair[0] {
			if !slices.Contains(pair[1], m) {
				add(func(o *outline) { o.piece(m) })
			}
		}
	}
	for _, e := range slices.Concat(sh.extra, differ(l.last.things, sh.things), differ(sh.things, l.last.things)) {
		add(func(o *outline) { o.body(e) })
	}
	if len(lamps) == 0 {
		return join(parts, unlitStart)
	}
	return join(parts, litStart)
}

// differ are the things of a that are not in b.
func differ(a, b []body) []body {
	var out []body
	for _, e := range a {
		if !slices.ContainsFunc(b, func(o body) bool { return o.text == e.text }) {
			out = append(out, e)
		}
	}
	return out
}

// What a run of povray costs before its first pixel, in pixels with and without
// shadows; measured.
const (
	litStart   = 60000
	unlitStart = 250000
)

// join unites rectangles wherever the union costs less than both.
func join(parts []image.Rectangle, start int) []image.Rectangle {
	area := func(r image.Rectangle) int { return r.Dx()*r.Dy() + start }
	for again := true; again; {
		again = false
		for i := 0; i < len(parts); i++ {
			for j := i + 1; j < len(parts); j++ {
				if u := parts[i].Union(parts[j]); area(u) <= area(parts[i])+area(parts[j]) {
					parts[i] = u
					parts = slices.Delete(parts, j, j+1)
					again = true
					j--
				}
			}
		}
	}
	return parts
}
