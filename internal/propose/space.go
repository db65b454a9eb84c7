// SPDX-License-Identifier: Apache-2.0

package propose

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"strconv"
	"strings"

	"boardhand/internal/assess"
	"boardhand/internal/rig"
)

// Space is all rigs that a stock makes around a given one.
type Space struct {
	base     *rig.Rig
	options  [slots][]option
	currency string
	stock    *Stock
	needs    [slots]int // pieces of each slot's part
	// Notes say which parts were left out, and why.
	Notes []string
	// Sum tells this search from another: of the rig and the stock.
	Sum string
}

// choice is which option fills each slot.
type choice [slots]int

// NewSpace lays out the search of a stock around a rig.
func NewSpace(base *rig.Rig, stock *Stock) (*Space, error) {
	s := &Space{base: base, currency: stock.Currency, stock: stock, options: stock.options(base)}
	if err := stock.fits(base); err != nil {
		return nil, err
	}
	for k := range s.options {
		s.needs[k] = need(base, slot(k))
		if err := s.obtainable(slot(k)); err != nil {
			return nil, fmt.Errorf("%s: %w", stock.path, err)
		}
	}
	total := 1
	for _, o := range s.options {
		if total *= len(o); total > mostCandidates {
			return nil, fmt.Errorf("%s: over %d rigs to try; take out what you would not use", stock.path, mostCandidates)
		}
	}
	s.Sum = fingerprint(base, stock)
	return s, nil
}

// fits says whether the pieces stay in their range with the stock's rings.
func (s *Stock) fits(base *rig.Rig) error {
	for i, f := range s.Feet {
		c := *base
		f.put(base)(&c)
		if w := c.Pieces.Widest(); w.MM() > 60 {
			return s.fault("foot", i, "makes a foot of %v; the largest is 60 mm", w)
		}
	}
	return nil
}

// obtainable takes out the options of a slot of which there are too few.
func (s *Space) obtainable(k slot) error {
	n := s.needs[k]
	var in []option
	for _, o := range s.options[k] {
		if _, ok := o.cost(n); ok {
			in = append(in, o)
			continue
		}
		s.Notes = append(s.Notes, fmt.Sprintf("%s is left out as %s: %d owned, %d needed, and it has no price", o.name, slotNames[k], o.owned, n))
	}
	if len(in) == 0 {
		return fmt.Errorf("none of the parts can be the %s: %s", slotNames[k], s.Notes[len(s.Notes)-1])
	}
	s.options[k] = in
	return nil
}

func fingerprint(base *rig.Rig, stock *Stock) string {
	b, st := *base, *stock
	b.Path, st.path, st.heads = "", "", nil
	h := sha256.New()
	_, _ = fmt.Fprintln(h, valuesOf(b))
	for k, list := range st.options(&b) {
		for _, o := range list {
			c := b
			o.put(&c)
			price := "none"
			if o.price != nil {
				price = strconv.FormatFloat(*o.price, 'g', -1, 64)
			}
			_, _ = fmt.Fprintf(h, "%d %q %s %d %s\n", k, o.name, price, o.owned, valuesOf(c))
		}
	}
	return hex.EncodeToString(h.Sum(nil))[:16]
}

// valuesOf is all that a rig says, the same in every process: what it points to by its value.
func valuesOf(r rig.Rig) string {
	var out strings.Builder
	for _, n := range []**int{&r.Axis.X.Switches, &r.Axis.Y.Switches, &r.Lift.Switches} {
		if *n != nil {
			_, _ = fmt.Fprintf(&out, "%d ", **n)
			*n = nil
		}
	}
	if r.Built != nil {
		_, _ = fmt.Fprintf(&out, "%#v ", *r.Built)
		r.Built = nil
	}
	_, _ = fmt.Fprintf(&out, "%#v", r)
	return out.String()
}

// Size is how many rigs there are to try.
func (s *Space) Size() int { return s.over(0) }

// over is how many candidates share the choices of the slots before k.
func (s *Space) over(k int) int {
	n := 1
	for _, o := range s.options[k:] {
		n *= len(o)
	}
	return n
}

// choose gives the choices of a candidate by its number, from 0.
func (s *Space) choose(n int) choice {
	var c choice
	for k := len(c) - 1; k >= 0; k-- {
		c[k] = n % len(s.options[k])
		n /= len(s.options[k])
	}
	return c
}

// Rig builds a candidate by its number, from 0.
func (s *Space) Rig(n int) *rig.Rig { return s.build(s.choose(n)) }

func (s *Space) build(c choice) *rig.Rig {
	r := *s.base
	for k, o := range s.options {
		o[c[k]].put(&r)
	}
	return &r
}

// varied says whether the stock offers more than one way to fill a slot.
func (s *Space) varied(k slot) bool { return len(s.options[k]) > 1 }

// Part is one line of a shopping list.
type Part struct {
	Place string  `json:"place"` // what it is in the rig
	Name  string  `json:"name"`
	Need  int     `json:"need"`
	Buy   int     `json:"buy"`
	Cost  float64 `json:"cost"`
	// Gratis says that nothing is bought or taken from the stock.
	Gratis bool `json:"gratis,omitempty"`
}

// price is what a candidate's parts cost; false when a part that is used in
// two places runs out.
func (s *Space) price(c choice) (parts [bought]Part, total float64, ok bool) {
	for k := range bought {
		o := &s.options[k][c[k]]
		n, owned := s.needs[k], o.owned
		if slot(k) == footMagnet && o.from >= 0 && o.from == s.options[driveMagnet][c[driveMagnet]].from {
			owned = max(0, owned-1) // one is in the lift
		}
		cost, ok := (offer{o.price, owned}).cost(n)
		if !ok {
			return parts, 0, false
		}
		total += cost
		parts[k] = Part{Place: slotNames[k], Name: o.name, Need: n, Buy: max(0, n-owned), Cost: cost, Gratis: o.owned == math.MaxInt}
	}
	return parts, total, true
}

// Settings are the keys in which a candidate differs from the given rig.
func (s *Space) Settings(n int) []assess.Setting { return differing(s.base, s.Rig(n)) }
