// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"math"
	"strings"

	"boardhand/tools/score/card"
)

// shift is how a figure of the total row differs from what it is without a
// change.
type shift struct {
	text string  // "moves right −2", "offset +12 %"
	size float64 // for a count its change, else the natural logarithm of the ratio, without sign
}

// shifts lists what changed: every count, and the rest from 2 % on.
func shifts(was, is card.Row) []shift {
	var out []shift
	count := func(what string, was, is int) {
		if was != is {
			out = append(out, shift{what + " " + signed(is-was), math.Abs(float64(is - was))})
		}
	}
	count("moves right", was.Moves.Is, is.Moves.Is)
	count("wrong", was.Wrong, is.Wrong)
	count("asked", was.Asked.Is, is.Asked.Is)
	count("same", was.Still.Is, is.Still.Is)
	count("hands", was.Hands.Is, is.Hands.Is)
	count("odd", was.Odd.Is, is.Odd.Is)
	count("errors", was.Failed, is.Failed)
	share := func(what string, was, is float64) {
		const least = 0.01 // a figure of nothing counts as so much
		ratio := max(is, least) / max(was, least)
		if p := 100 * (ratio - 1); math.Abs(p) >= 2 {
			out = append(out, shift{fmt.Sprintf("%s %s %%", what, signed(int(math.Round(p)))), math.Abs(math.Log(ratio))})
		}
	}
	share("surprise", was.Surprise, is.Surprise)
	share("offset", was.Median, is.Median)
	share("offset 95 %", was.Most, is.Most)
	share("over σ", was.Sigmas, is.Sigmas)
	share("view", was.View, is.View)
	share("lead", was.Lead, is.Lead)
	share("unexplained", was.Left, is.Left)
	share("hand", was.Cover, is.Cover)
	return out
}

// signed writes a number with its sign.
func signed(n int) string {
	return strings.Replace(fmt.Sprintf("%+d", n), "-", "−", 1)
}
