// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"encoding/binary"
	"maps"
	"math"
	"slices"
	"unicode/utf16"
)

// The font file's measures, font units. The em holds a line of lettering from
// descender to accent.
const (
	unitsPerEm = 1000
	ascent     = 800
	descent    = -260
)

// trueType packs letters into a TrueType font (OpenType specification 1.9,
// ISO/IEC 14496-22): straight outlines, one glyph a letter, glyph 0 empty.
func trueType(all []letter, pen float64) []byte {
	glyf, loca, hmtx, box := shapes(all)
	weight := uint16(400)
	if pen > 1.2 { // the heavier of the two pens
		weight = 700
	}
	n := uint16(len(all) + 1)
	tables := map[string][]byte{
		"OS/2": os2(all, weight), "cmap": cmap(all), "glyf": glyf, "loca": loca, "hmtx": hmtx,
		"head": words(1, 0, 1, 0, 0, 0, 0x5F0F, 0x3CF5, 3, unitsPerEm, 0, 0, 0, 0, 0, 0, 0, 0,
			box[0], box[1], box[2], box[3], 0, 6, 2, 1, 0),
		"hhea": words(1, 0, ascent, descent&0xFFFF, 0, 900, 0, 0, 900, 1, 0, 0, 0, 0, 0, 0, 0, n),
		"maxp": words(1, 0, n, 2000, 40, 0, 0, 2, 0, 0, 0, 0, 0, 0, 0, 0),
		"name": names(), "post": words(3, 0, 0, 0, 0xFF9C, 50, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0),
	}
	return assemble(tables)
}

// shapes are the tables glyf, loca (long) and hmtx, and the common box.
func shapes(all []letter) (glyf, loca, hmtx []byte, box [4]uint16) {
	lo, hi := [2]int{unitsPerEm, unitsPerEm}, [2]int{-unitsPerEm, -unitsPerEm}
	loca = binary.BigEndian.AppendUint32(loca, 0)
	hmtx = words(unitsPerEm/2, 0)
	for _, l := range all {
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
		g, b := shape(l)
		glyf = append(glyf, g...)
		hmtx = append(hmtx, words(uint16(math.Round(l.advance*lineUnits)), uint16(b[0]))...)
		if len(g) > 0 {
			lo = [2]int{min(lo[0], b[0]), min(lo[1], b[1])}
			hi = [2]int{max(hi[0], b[2]), max(hi[1], b[3])}
		}
	}
	loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
	return glyf, loca, hmtx, [4]uint16{uint16(lo[0]), uint16(lo[1]), uint16(hi[0]), uint16(hi[1])}
}

// shape is one simple glyph with 16-bit coordinates, and its box.
func shape(l letter) ([]byte, [4]int) {
	var ends, flags, xs, ys []byte
	box := [4]int{math.MaxInt16, math.MaxInt16, math.MinInt16, math.MinInt16}
	count, px, py := 0, 0, 0
	for _, ring := range l.rings {
		for i := range ring {
			v := ring[len(ring)-1-i] // clockwise is filled
			x, y := int(math.Round(v.x*lineUnits)), int(math.Round(v.y*lineUnits))
			box = [4]int{min(box[0], x), min(box[1], y), max(box[2], x), max(box[3], y)}
			flags = append(flags, 0x01) // on the curve
			xs = binary.BigEndian.AppendUint16(xs, uint16(x-px))
			ys = binary.BigEndian.AppendUint16(ys, uint16(y-py))
			px, py = x, y
			count++
		}
		ends = binary.BigEndian.AppendUint16(ends, uint16(count-1))
	}
	if count == 0 {
		return nil, [4]int{}
	}
	flags[0] |= 0x40 // outlines overlap
	g := words(uint16(len(l.rings)), uint16(box[0]), uint16(box[1]), uint16(box[2]), uint16(box[3]))
	g = slices.Concat(g, ends, words(0), flags, xs, ys)
	return append(g, make([]byte, -len(g)&3)...), box
}

// cmap maps characters to glyphs: format 4, one segment a letter.
func cmap(all []letter) []byte {
	n := len(all) + 1
	power := 1 << (bitLength(n) - 1)
	var end, start, delta []uint16
	for i, l := range all {
		c := uint16(l.char)
		end, start, delta = append(end, c), append(start, c), append(delta, uint16(i+1)-c)
	}
	end, start, delta = append(end, 0xFFFF), append(start, 0xFFFF), append(delta, 1)
	b := words(0, 1, 3, 1, 0, 12, 4, uint16(16+8*n), 0, uint16(2*n),
		uint16(2*power), uint16(bitLength(n)-1), uint16(2*n-2*power))
	return slices.Concat(b, words(end...), words(0), words(start...), words(delta...), make([]byte, 2*n))
}

func bitLength(n int) int {
	b := 0
	for ; n > 0; n >>= 1 {
		b++
	}
	return b
}

func os2(all []letter, weight uint16) []byte {
	first, last := uint16(all[0].char), uint16(all[len(all)-1].char)
	return words(4, 400, weight, 5, 0, 650, 600, 0, 75, 650, 600, 0, 350, 50, 250, 0,
		0, 0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 0, // panose, ranges
		0x4248, 0x4C54, 0x40, first, last, // vendor, selection
		ascent, descent&0xFFFF, 0, ascent, -descent, 0, 1, 0, 0, 448, 640, 0, 32, 0)
}

// names is the name table: family, style, whole name, PostScript name.
func names() []byte {
	entries := []struct {
		id   uint16
		text string
	}{{1, "Boardhand Lettering"}, {2, "Regular"}, {4, "Boardhand Lettering"}, {6, "BoardhandLettering"}}
	var records, text []byte
	for _, e := range entries {
		u := words(utf16.Encode([]rune(e.text))...)
		records = append(records, words(3, 1, 0x409, e.id, uint16(len(u)), uint16(len(text)))...)
		text = append(text, u...)
	}
	n := uint16(len(entries))
	return slices.Concat(words(0, n, 6+12*n), records, text)
}

// assemble writes the directory, the tables and the checksums.
func assemble(tables map[string][]byte) []byte {
	tags := slices.Sorted(maps.Keys(tables))
	n := len(tags)
	power := 1 << (bitLength(n) - 1)
	out := words(1, 0, uint16(n), uint16(16*power), uint16(bitLength(n)-1), uint16(16*n-16*power))
	at := 12 + 16*n
	var body []byte
	head := 0
	for _, tag := range tags {
		t := tables[tag]
		if tag == "head" {
			head = at + len(body)
		}
		out = append(out, tag...)
		out = binary.BigEndian.AppendUint32(out, checksum(t))
		out = binary.BigEndian.AppendUint32(out, uint32(at+len(body)))
		out = binary.BigEndian.AppendUint32(out, uint32(len(t)))
		body = append(body, t...)
		body = append(body, make([]byte, -len(body)&3)...)
	}
	out = append(out, body...)
	binary.BigEndian.PutUint32(out[head+8:], 0xB1B0AFBA-checksum(out))
	return out
}

func checksum(b []byte) uint32 {
	var sum uint32
	b = append(bytes.Clone(b), make([]byte, -len(b)&3)...)
	for i := 0; i < len(b); i += 4 {
		sum += binary.BigEndian.Uint32(b[i:])
	}
	return sum
}

// words writes 16-bit numbers, high byte first.
func words(v ...uint16) []byte {
	b := make([]byte, 0, 2*len(v))
	for _, w := range v {
		b = binary.BigEndian.AppendUint16(b, w)
	}
	return b
}
