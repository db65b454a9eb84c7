// SPDX-License-Identifier: Apache-2.0

package rehearsal

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"runtime"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"
)

// PlayAll plays the games of these numbers on all cores and tells of each that
// has ended. When ctx ends, what was finished is still added up.
func PlayAll(ctx context.Context, picks []int, play func(context.Context, int) (Tally, error), ended func()) (Tally, error) {
	var sum Tally
	var mu sync.Mutex
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(runtime.GOMAXPROCS(0))
	for _, n := range picks {
		g.Go(func() error {
			t, err := play(ctx, n)
			if err != nil {
				return fmt.Errorf("game %d: %w", n, err)
			}
			mu.Lock()
			defer mu.Unlock()
			sum.Add(t)
			ended()
			return nil
		})
	}
	err := g.Wait()
	return sum, err
}

// Merge adds up the JSON files that the shards of one rehearsal printed.
func Merge(files []string) (Tally, error) {
	if len(files) == 0 {
		return Tally{}, fmt.Errorf("--merge needs the JSON files that the shards printed")
	}
	var sum, first Tally
	var parts Parts
	for _, name := range files {
		t, err := readShard(name)
		if err != nil {
			parts.Refuse(err)
			continue
		}
		if t.Run != first.Run && first.Run != (Run{}) {
			return Tally{}, fmt.Errorf("%s is of another rehearsal (%v) than the first file (%v)", name, t.Run, first.Run)
		}
		if first.Games == 0 {
			first = t
		}
		parts.Add(t.Shard, name)
		sum.Add(t)
	}
	if err := parts.Whole(); err != nil {
		return Tally{}, err
	}
	sum.Run = first.Run
	return sum, nil
}

// readShard reads what a shard printed; one that was broken off before its last game is refused.
func readShard(name string) (t Tally, err error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return t, fmt.Errorf("cannot read a shard: %w", err)
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return t, fmt.Errorf("%s is empty: its shard failed", name)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&t); err != nil || d.More() || !isSpeltAsPrinted(data) || t.Games < 1 && t.Shard == "" || t.isNegative() {
		return t, fmt.Errorf("%s is not what `boardhand rehearse --json` prints", name)
	}
	var k, n int
	if _, err := fmt.Sscanf(t.Shard, "%d/%d", &k, &n); err == nil && n > 0 {
		if want := (t.Run.Games - k + n) / n; t.Games < want {
			return t, fmt.Errorf("%s ended after %d of %d games: shard %s was broken off", name, t.Games, want, t.Shard)
		}
	}
	return t, nil
}

// isSpeltAsPrinted says whether no name of an object has a capital: the decoder takes
// "Misread" for "misread", and of both the last one.
func isSpeltAsPrinted(data []byte) bool {
	names := map[string]json.RawMessage{}
	if err := json.Unmarshal(data, &names); err != nil {
		return false
	}
	for name := range names {
		if strings.ToLower(name) != name {
			return false
		}
	}
	return true
}
