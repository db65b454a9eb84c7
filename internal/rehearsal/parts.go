// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Parts are the shards of one piece of work, as they come in, and what was wrong with files.
type Parts struct {
	of    int
	held  map[int]string // the files, by the number of the shard
	wrong []error
}

// Refuse notes a file that holds no shard.
func (p *Parts) Refuse(err error) { p.wrong = append(p.wrong, err) }

// Add notes the shard that a file holds, written K/N; "" is the whole.
func (p *Parts) Add(shard, file string) {
	if shard == "" {
		return
	}
	var k, n int
	if _, err := fmt.Sscanf(shard, "%d/%d", &k, &n); err != nil || k < 1 || k > n {
		p.Refuse(fmt.Errorf("%s says that it is shard %q", file, shard))
		return
	}
	if p.held == nil {
		p.of, p.held = n, map[int]string{}
	}
	switch other, ok := p.held[k]; {
	case n != p.of:
		p.Refuse(fmt.Errorf("%s is shard %s, others are of %d shards", file, shard, p.of))
	case ok:
		p.Refuse(fmt.Errorf("%s is shard %s, which %s is too: give each shard once", file, shard, other))
	default:
		p.held[k] = file
	}
}

// Whole is nil when every shard is there; else it names those that are not, and why.
func (p *Parts) Whole() error {
	var missing []string
	for k := 1; k <= p.of; k++ {
		if _, ok := p.held[k]; !ok {
			missing = append(missing, fmt.Sprintf("%d/%d", k, p.of))
		}
	}
	wrong := p.wrong
	switch len(missing) {
	case 0:
	case 1:
		wrong = append(wrong, fmt.Errorf("shard %s is missing: run it again with --shard %s and merge all of them", missing[0], missing[0]))
	default:
		wrong = append(wrong, fmt.Errorf("shards %s are missing: run them again with --shard and merge all of them", strings.Join(missing, ", ")))
	}
	if len(wrong) == 0 {
		return nil
	}
	var text []string
	for _, err := range wrong {
		text = append(text, err.Error())
	}
	return errors.New(strings.Join(text, "; "))
}

// shardForm is how a part is written: at most a million of them.
var shardForm = regexp.MustCompile(`^(\d{1,6})/(\d{1,6})$`)

// PartOf reads K/N; nothing given is the whole.
func PartOf(shard string) (k, n int, err error) {
	if shard == "" {
		return 1, 1, nil
	}
	if m := shardForm.FindStringSubmatch(shard); m != nil {
		k, _ = strconv.Atoi(m[1])
		n, _ = strconv.Atoi(m[2])
	}
	if k < 1 || k > n {
		return 0, 0, fmt.Errorf("--shard must be K/N with 1 ≤ K ≤ N, like 2/5; got %q", shard)
	}
	return k, n, nil
}
