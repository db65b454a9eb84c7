// SPDX-License-Identifier: Apache-2.0

package lens

import (
	"math"

	"boardhand/internal/frame"
)

// Paper is the frame of a sheet: x to the right and y down on it, z into it, from its middle.
type Paper struct{}

// Sheet is a printed checkerboard that somebody holds before the camera.
type Sheet struct {
	Across, Down int     // squares
	Square       float64 // side of one, m
	Border       float64 // of white paper around them, m
	Pose         frame.Pose[frame.Camera, Paper]
}

// What paper and print reflect, linear. Common practice for office paper and toner.
var paperWhite, paperBlack = colour{0.80, 0.80, 0.78}, colour{0.05, 0.05, 0.05}

// sheetSamples each way are taken of a pixel in which something on a sheet ends: corners are
// then drawn to 0.02 px. Doubled, pictures of sheets take three times as long.
const sheetSamples = 4

// drawSheet lays the sheet over a picture and softens all of it, as the lens does.
func (s *stage) drawSheet(rgb []uint16, sheet *Sheet) {
	p := plate{w: s.plate.w, h: s.plate.h, rgb: rgb}
	rays := s.rays()
	boardFromCamera := s.scene.view.CameraFromBoard.Inverse()
	for i := range p.w * p.h {
		u, v := float64(i%p.w), float64(i/p.w)
		at, far, ok := sheet.hit(rays.at(u, v))
		if !ok || !sheet.has(at) {
			continue
		}
		c := sheet.tone(at)
		if next, _, _ := sheet.hit(rays.at(u+1, v+1)); sheet.endsNear(at, 2*at.Distance(next)) {
			c = sheet.mean(rays, u, v)
		}
		c = s.scene.lit(c, boardFromCamera.Apply(far), 1)
		for k := range 3 {
			p.rgb[3*i+k] = stored(c[k] * float64(s.plate.dim[i]))
		}
	}
	p.blur()
}

// hit is where a ray meets the sheet, on it and in the camera frame.
func (s *Sheet) hit(ray frame.Spot[frame.Image]) (on frame.Spot[Paper], at frame.Point[frame.Camera], ok bool) {
	r, t := &s.Pose.R, &s.Pose.T
	n := frame.Point[frame.Camera]{X: r[0][2], Y: r[1][2], Z: r[2][2]} // out of the sheet
	k := (n.X*t.X + n.Y*t.Y + n.Z*t.Z) / (n.X*ray.X + n.Y*ray.Y + n.Z)
	at = frame.Point[frame.Camera]{X: k * ray.X, Y: k * ray.Y, Z: k}
	d := at.Sub(*t)
	return frame.Spot[Paper]{X: r[0][0]*d.X + r[1][0]*d.Y + r[2][0]*d.Z, Y: r[0][1]*d.X + r[1][1]*d.Y + r[2][1]*d.Z}, at, k > 0
}

// has says whether a place is on the paper.
func (s *Sheet) has(at frame.Spot[Paper]) bool {
	return math.Abs(at.X) < float64(s.Across)*s.Square/2+s.Border && math.Abs(at.Y) < float64(s.Down)*s.Square/2+s.Border
}

// tone is what the sheet reflects at a place.
func (s *Sheet) tone(at frame.Spot[Paper]) colour {
	i, j := math.Floor(at.X/s.Square+float64(s.Across)/2), math.Floor(at.Y/s.Square+float64(s.Down)/2)
	if i >= 0 && j >= 0 && i < float64(s.Across) && j < float64(s.Down) && int(i+j)%2 == 0 {
		return paperBlack
	}
	return paperWhite
}

// endsNear says whether a square ends so near a place.
func (s *Sheet) endsNear(at frame.Spot[Paper], near float64) bool {
	i, j := at.X/s.Square+float64(s.Across)/2, at.Y/s.Square+float64(s.Down)/2
	return math.Abs(i-math.Round(i))*s.Square < near || math.Abs(j-math.Round(j))*s.Square < near
}

// mean is the tone of a pixel by many places in it.
func (s *Sheet) mean(rays rays, u, v float64) (c colour) {
	const share = 1.0 / (sheetSamples * sheetSamples)
	for k := range sheetSamples * sheetSamples {
		du, dv := (float64(k%sheetSamples)+0.5)/sheetSamples-0.5, (float64(k/sheetSamples)+0.5)/sheetSamples-0.5
		at, _, _ := s.hit(rays.at(u+du, v+dv))
		tone := s.tone(at)
		for i := range c {
			c[i] += share * tone[i]
		}
	}
	return c
}

// rays are the directions x/z, y/z of pixels, traced at the corners of a grid.
type rays struct {
	cols int
	node []frame.Spot[frame.Image]
}

// rays traces the lens.
func (s *stage) rays() rays {
	out := rays{cols: s.plate.w/gridStep + 3}
	for j := range s.plate.h/gridStep + 3 {
		for i := range out.cols {
			x, y, err := s.scene.view.Lens.Ray(frame.Spot[frame.Image]{X: float64((i - 1) * gridStep), Y: float64((j - 1) * gridStep)})
			if err != nil {
				x, y = math.Inf(1), math.Inf(1) // no such ray: it meets nothing
			}
			out.node = append(out.node, frame.Spot[frame.Image]{X: x, Y: y})
		}
	}
	return out
}

// at is the direction of a place in the picture.
func (r rays) at(u, v float64) frame.Spot[frame.Image] {
	u, v = u/gridStep+1, v/gridStep+1
	i, j := math.Floor(u), math.Floor(v)
	tx, ty := u-i, v-j
	k := int(j)*r.cols + int(i)
	a := r.node[k].Scale(1 - tx).Add(r.node[k+1].Scale(tx))
	b := r.node[k+r.cols].Scale(1 - tx).Add(r.node[k+r.cols+1].Scale(tx))
	return a.Scale(1 - ty).Add(b.Scale(ty))
}
