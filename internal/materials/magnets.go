// SPDX-License-Identifier: Apache-2.0

package materials

import (
	"fmt"

	"boardhand/internal/assess"
	"boardhand/internal/game"
)

func (b *builder) magnets() {
	r := b.r
	m := &b.list.Magnets
	m.Drive = Disc{r.Lift.Diameter, r.Lift.Thickness, r.Lift.Grade}
	m.Foot = Disc{r.Pieces.Magnet.Diameter, r.Pieces.Magnet.Thickness, r.Pieces.Magnet.Grade}
	m.DriveUp, m.FootDown = "north", "south"
	m.Polarity = "The drive magnet's north pole faces up. Every magnet in a base has its south pole down, both sides alike: the drive magnet's upper face pulls it. " +
		"Mark the upper face of one spare drive magnet as the reference: a base whose underside it pulls is right, one that it pushes off is upside down."
	sides := 0
	for _, side := range sides2 {
		if r.Pieces.Carries(side) {
			sides++
			m.Groups = append(m.Groups, b.groups(side)...)
		}
	}
	m.Count = sides * r.Pieces.Count
	m.Spare = assess.BillOf(r).Feet - m.Count
	b.disc(m.Drive, Line{Name: "drive magnet, ", Need: 1, Spare: 1, Why: "one on the lift; the spare one is the reference for the poles"}, "foot")
	b.disc(m.Foot, Line{Name: "magnet in a base, ", Need: m.Count, Spare: m.Spare,
		Why: fmt.Sprintf("%d pieces of one side, carried: %s; two spare", r.Pieces.Count, r.Pieces.Carried)}, "lift")
}

// sides2 are the names of both sides.
var sides2 = []string{"white", "black"}

// disc adds a magnet, from the stock's discs of that size that are not for another use.
func (b *builder) disc(d Disc, l Line, not string) {
	l.List, l.Name = InMagnets, l.Name+d.String()
	for i, s := range b.stock.Magnets {
		if s.Use != not && alike(s.Diameter, d.Diameter) && alike(s.Thickness, d.Thickness) && s.Grade == d.Grade {
			l.Price, l.Mass, l.Owned = s.Price, s.Mass, b.take("magnet", i, s.Owned, l.Need+l.Spare)
			break
		}
	}
	b.add(l)
}

// groups are the pieces of a side by kind. How many there are of each kind is known of
// chess; of another game every piece may be of any kind.
func (b *builder) groups(side string) (out []Group) {
	p := &b.r.Pieces
	for _, k := range p.Kinds().All() {
		n := p.Count
		if *p.Kinds() == game.ChessKinds && p.Count == 16 {
			n = game.InChess(k)
		} else if len(p.Kinds().All()) > 1 {
			b.note("how many pieces there are of each kind is not in the rig file: bases are counted as if all %d of a side could be of any kind", p.Count)
		}
		out = append(out, Group{side, p.Kinds().Name(k), n, p.Of(k).Base})
	}
	return out
}
