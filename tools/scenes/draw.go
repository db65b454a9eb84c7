// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// dice draws the session's random choices.
type dice struct{ *rand.Rand }

// diceFor seeds the dice from a session's name.
func diceFor(name string) dice {
	h := fnv.New64a()
	h.Write([]byte(name))
	return dice{rand.New(rand.NewPCG(h.Sum64(), 0x5ce7e5))}
}

// in draws evenly between a and b.
func (d dice) in(a, b float64) float64 { return a + (b-a)*d.Float64() }

// chance is true with probability p.
func (d dice) chance(p float64) bool { return d.Float64() < p }

// bell draws from the normal distribution of the given spread, clipped.
func (d dice) bell(sigma, clip float64) float64 {
	return math.Max(-clip, math.Min(clip, d.NormFloat64()*sigma))
}

// one draws an element.
func one[T any](d dice, from ...T) T { return from[d.IntN(len(from))] }

// rgb is a colour as a person would pick it, sRGB 0-1.
type rgb [3]float64

// times scales a colour.
func (c rgb) times(k float64) rgb {
	for i := range c {
		c[i] = math.Max(0, math.Min(1, c[i]*k))
	}
	return c
}

// near draws a colour close to c.
func (d dice) near(c rgb, by float64) rgb {
	k := 1 + d.bell(by, 2*by)
	for i := range c {
		c[i] = math.Max(0.01, math.Min(1, c[i]*k*(1+d.bell(by/3, by))))
	}
	return c
}

// linear is the colour's linear light, for lamps (IEC 61966-2-1).
func (c rgb) linear() string {
	var v vec
	for i := range c {
		v[i] = math.Pow((c[i]+0.055)/1.055, 2.4)
	}
	return fmt.Sprintf("rgb <%.4f,%.4f,%.4f>", v[0], v[1], v[2])
}
