// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"boardhand/tools/score/card"
)

// summary is the counts in a sentence.
func (c *alone) summary() string {
	text := fmt.Sprintf("%d settled pictures, %d agreed with afterwards (%d filled in what was missed), %d wrong positions, at most %d in a row without agreement",
		c.settled, c.agreed, c.filled, c.wrong, c.longest)
	if c.black > 0 {
		text += fmt.Sprintf("; %d black pictures, %d of them told as a board", c.black, c.fooled)
	}
	return text
}

// reliability is a table of the beliefs given out by the kind of light: how often they came true.
func (c *alone) reliability() string {
	if len(c.said) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("| light |")
	rule := "\n| --- |"
	for k := range len(card.Edges) - 1 {
		fmt.Fprintf(&b, " %g–%g |", card.Edges[k], min(card.Edges[k+1], 1))
		rule += " --- |"
	}
	b.WriteString(rule + "\n")
	for _, light := range slices.Sorted(maps.Keys(c.said)) {
		fmt.Fprintf(&b, "| %s |", light)
		for k := range len(card.Edges) - 1 {
			right, of := 0, 0
			for _, a := range c.said[light] {
				if a.belief >= card.Edges[k] && a.belief < card.Edges[k+1] {
					of++
					if a.right {
						right++
					}
				}
			}
			if of == 0 {
				b.WriteString(" – |")
			} else {
				fmt.Fprintf(&b, " %d/%d |", right, of)
			}
		}
		b.WriteString("\n")
	}
	return b.String()
}

// shares is a table of the pictures told as what they are, by the kind of light.
func (c *alone) shares() string {
	var b strings.Builder
	b.WriteString("| light | moves | nothing happened | hands | half-done | against the rules | left in doubt |\n| --- | --- | --- | --- | --- | --- | --- |\n")
	row := func(light string, doubted int, of func(State) share) {
		fmt.Fprintf(&b, "| %s |", light)
		for _, state := range []State{Moved, Same, Hand, Partial, Illegal} {
			n := of(state)
			fmt.Fprintf(&b, " %d/%d |", n.right, n.of)
		}
		fmt.Fprintf(&b, " %d |\n", doubted)
	}
	lights := map[string]bool{}
	sum, doubted := map[State]share{}, 0
	for k, n := range c.told {
		lights[k.light] = true
		sum[k.state] = share{sum[k.state].right + n.right, sum[k.state].of + n.of}
	}
	for _, light := range slices.Sorted(maps.Keys(lights)) {
		row(light, c.doubted[light], func(s State) share { return c.told[kindOf{light, s}] })
		doubted += c.doubted[light]
	}
	row("all", doubted, func(s State) share { return sum[s] })
	return b.String() + "\n"
}

// page is the figures as a page of docs.
func (c *alone) page() string {
	return `# What the reader makes of games that nobody answers for

Written by ` + "`make alone`" + `, which draws sessions kept apart from those that the reader is worked on with (tools/scenes, wants povray):
rooms in which the light changes, several conditions at their limits at once (limv), and promotions by pieces never met (promov). Nobody says what was
played where the reader is in doubt, so that a move not understood must be found again from later pictures. Every tenth picture of a finished
position is taken out, every fifteenth is black.

Read were ` + strings.Join(c.sessions, ", ") + `: ` + c.summary() + `.

Pictures told as what they are (of finished positions: the right position is believed afterwards), and those of finished positions that
were left in doubt, by the kind of light or, where the light stays, by the set:

` + c.shares() + `Of the answers given out with a belief (columns), those that came true, by the kind of light:

` + c.reliability()
}

// The table has a row for each light and counts each answer in its column.
func TestReliabilityByLight(t *testing.T) {
	c := alone{said: map[string][]answer{"dark": {{0.99, true}, {0.99, false}, {0.96, true}}, "bars": {{0.7, true}}}}
	want := "| bars | – | 1/1 | – | – | – | – | – |\n| dark | – | – | – | – | 1/1 | – | 1/2 |\n"
	if got := c.reliability(); !strings.HasSuffix(got, want) {
		t.Errorf("%s, want the rows\n%s", got, want)
	}
}

// The table of shares has a row for each light and one for all.
func TestShares(t *testing.T) {
	var c alone
	c.count("dark", truth{State: Moved}, Reading{State: Moved, Belief: 0.99}, true)
	c.count("dark", truth{State: Moved}, Reading{State: Unsure}, false)
	c.count("dark", truth{State: Hand}, Reading{State: Hand}, false)
	c.count("bars", truth{State: Illegal}, Reading{State: Partial}, true)
	want := "| bars | 0/0 | 0/0 | 0/0 | 0/0 | 0/1 | 0 |\n| dark | 1/2 | 0/0 | 1/1 | 0/0 | 0/0 | 1 |\n| all | 1/2 | 0/0 | 1/1 | 0/0 | 0/1 | 1 |\n\n"
	if got := c.shares(); !strings.HasSuffix(got, want) {
		t.Errorf("%s, want the rows\n%s", got, want)
	}
}

// Of thirty settled pictures three are taken out and one is black that is not taken out anyway.
func TestLosing(t *testing.T) {
	n := map[fate]int{}
	lose := losing(true)
	for k := range 30 {
		n[lose(k, truth{State: Moved})]++
		lose(k, truth{State: Hand})
	}
	if n[deleted] != 3 || n[blackened] != 1 {
		t.Errorf("%v", n)
	}
}
