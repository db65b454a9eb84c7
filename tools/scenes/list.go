// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// listSession tells in two lines what a session holds, and draws no picture.
func listSession(w io.Writer, o options, name string) error {
	s, shots, err := planSession(diceFor(name), o, name)
	if err != nil {
		return err
	}
	count := map[string]int{}
	for _, sh := range shots {
		count[sh.truth.Kind]++
	}
	var kinds []string
	for _, k := range slices.Sorted(maps.Keys(count)) {
		kinds = append(kinds, fmt.Sprintf("%s %d", k, count[k]))
	}
	v := s.view
	_, err = fmt.Fprintf(w, "%s: %s; %d x %d, f %.0f px, k1 %.2f, squares %g mm, white %s, gloss %.2f\n  %s\n",
		name, s.camera(shots).About, v.w, v.h, v.f, v.k1, s.square, s.side, s.board.gloss, strings.Join(kinds, ", "))
	return err
}
