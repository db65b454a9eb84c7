// SPDX-License-Identifier: Apache-2.0

package golden

import "strings"

// change is one place where two texts differ.
type change struct {
	heading   string   // the kept heading that it stands under
	kept, now []string // neighbouring lines; one of the two may be empty
}

// compared lists where now differs from kept.
func compared(kept, now []string) []change {
	var out []change
	i, j := 0, 0
	for _, p := range append(pairs(kept, now), [2]int{len(kept), len(now)}) {
		if i < p[0] || j < p[1] {
			out = append(out, change{heading: heading(kept, i), kept: kept[i:p[0]], now: now[j:p[1]]})
		}
		i, j = p[0]+1, p[1]+1
	}
	return out
}

// merged is now, with the kept line wherever the two agree.
func merged(kept, now []string) []string {
	out := append([]string(nil), now...)
	for _, p := range pairs(kept, now) {
		out[p[1]] = kept[p[0]]
	}
	return out
}

// pairs matches lines that agree, as many as possible, in order.
func pairs(kept, now []string) [][2]int {
	var out [][2]int
	first := 0
	for first < len(kept) && first < len(now) && agrees(kept[first], now[first]) {
		out = append(out, [2]int{first, first})
		first++
	}
	last := 0
	for last < len(kept)-first && last < len(now)-first && agrees(kept[len(kept)-1-last], now[len(now)-1-last]) {
		last++
	}
	for _, p := range longest(kept[first:len(kept)-last], now[first:len(now)-last]) {
		out = append(out, [2]int{first + p[0], first + p[1]})
	}
	for k := last; k > 0; k-- {
		out = append(out, [2]int{len(kept) - k, len(now) - k})
	}
	return out
}

// longest is the longest common subsequence.
func longest(kept, now []string) [][2]int {
	length := make([][]int32, len(kept)+1)
	for i := range length {
		length[i] = make([]int32, len(now)+1)
	}
	for i := len(kept) - 1; i >= 0; i-- {
		for j := len(now) - 1; j >= 0; j-- {
			length[i][j] = max(length[i+1][j], length[i][j+1])
			if agrees(kept[i], now[j]) {
				length[i][j] = length[i+1][j+1] + 1
			}
		}
	}
	var out [][2]int
	for i, j := 0, 0; i < len(kept) && j < len(now); {
		switch {
		case agrees(kept[i], now[j]):
			out = append(out, [2]int{i, j})
			i, j = i+1, j+1
		case length[i+1][j] >= length[i][j+1]:
			i++
		default:
			j++
		}
	}
	return out
}

// heading is the last line before number i that is not indented, for a line
// that is; a line that is not indented needs none.
func heading(text []string, i int) string {
	if i < len(text) && !strings.HasPrefix(text[i], " ") {
		return ""
	}
	for k := i - 1; k >= 0; k-- {
		if text[k] != "" && !strings.HasPrefix(text[k], " ") {
			return text[k]
		}
	}
	return ""
}

// changedWords names the words that differ between two lines of as many words.
func changedWords(kept, now string) string {
	a, b := strings.Fields(kept), strings.Fields(now)
	if len(a) != len(b) {
		return ""
	}
	var out []string
	for i := range a {
		if !sameWord(a[i], b[i]) {
			out = append(out, a[i]+" → "+b[i])
		}
	}
	return strings.Join(out, ", ")
}
