// SPDX-License-Identifier: Apache-2.0

package main

import (
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// benchmark is one line of go test -bench.
type benchmark struct {
	pkg, name           string
	time, bytes, allocs string
	more                []string
}

var result = regexp.MustCompile(`(?m)^Benchmark(\S+?)(?:-\d+)?\s+\d+\s+(.*)$`)

// benchmarks runs the benchmarks of all packages that have some.
func benchmarks(span time.Duration) ([]benchmark, error) {
	var out []benchmark
	with, err := packages("internal")
	if err != nil {
		return nil, err
	}
	for _, pkg := range with {
		text, err := exec.Command("go", "test", "-run", "^$", "-bench", ".", "-benchmem", "-benchtime", span.String(), "./"+pkg).CombinedOutput()
		if err != nil {
			return nil, fmt.Errorf("%s: %w\n%s", pkg, err, text)
		}
		out = append(out, parsed(strings.TrimPrefix(pkg, "internal/"), string(text))...)
	}
	return out, nil
}

// packages are the folders below one whose tests have benchmarks.
func packages(below string) (out []string, err error) {
	err = filepath.WalkDir(below, func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		if dir := filepath.ToSlash(filepath.Dir(path)); strings.Contains(string(text), "\nfunc Benchmark") && !slices.Contains(out, dir) {
			out = append(out, dir)
		}
		return err
	})
	return out, err
}

// parsed reads what go test -bench says.
func parsed(pkg, text string) (out []benchmark) {
	for _, m := range result.FindAllStringSubmatch(text, -1) {
		b := benchmark{pkg: pkg, name: m[1]}
		words := strings.Fields(m[2])
		for k := 0; k+1 < len(words); k += 2 {
			switch v, unit := words[k], words[k+1]; unit {
			case "ns/op":
				b.time = readable(v)
			case "B/op":
				b.bytes = v
			case "allocs/op":
				b.allocs = v
			default:
				b.more = append(b.more, v+" "+unit)
			}
		}
		out = append(out, b)
	}
	return out
}

// readable is a number of nanoseconds in a unit that suits it, to three figures.
func readable(ns string) string {
	v, err := strconv.ParseFloat(ns, 64)
	if err != nil {
		return ns
	}
	for _, u := range []struct {
		name string
		of   float64
	}{{"s", 1e9}, {"ms", 1e6}, {"µs", 1e3}} {
		if v >= u.of {
			return strconv.FormatFloat(v/u.of, 'g', 3, 64) + " " + u.name
		}
	}
	return strconv.FormatFloat(v, 'g', 3, 64) + " ns"
}
