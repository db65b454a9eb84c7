// SPDX-License-Identifier: Apache-2.0

// Who checks whom in this package:
//
//	Force      ← published coaxial values (magcode), the fourfold disc sums of
//	             testdata (axial, lateral, peaks), the Bessel integral at random
//	             sizes, dipole and contact limits, slope of Energy, action =
//	             reaction, scaling, twice the nodes
//	Energy     ← its slope against Force; zero far apart
//	SideBySide ← testdata/side.txt, dipole limit, symmetry
//	Map        ← Force at random places; mirror symmetry
//	OnAxis     ← testdata/field.txt; derbyOlbert on the axis
//	derbyOlbert
//	           ← magpylib's published values, testdata/field.txt, no divergence
//	cel        ← through derbyOlbert; elliptic ← DLMF values
//	Grade      ← makers' tables against the energy product
//	FluxIndex  ← table computed with the test method; scaling with Br²
//	FieldReach ← table of distances; OnAxis at the distance found
//	OnIron     ← magpylib's holding-force example; Force at twice the gap
package magnet

import (
	"bufio"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"boardhand/internal/unit"
)

// printed is half the last digit of the force tables (five decimals) plus the
// largest disagreement between the methods behind them, 1e-6 N.
const printed = 5e-6 + 1e-6

func mm(v float64) unit.Length { return unit.MM(v) }

func disc(d, l, br float64) Cylinder { return Cylinder{mm(d), mm(l), unit.FluxDensity(br)} }

// table reads the numbers of a testdata file.
func table(t *testing.T, name string) (rows [][]float64) {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	for s := bufio.NewScanner(f); s.Scan(); {
		if strings.HasPrefix(s.Text(), "#") {
			continue
		}
		var row []float64
		for _, w := range strings.Fields(s.Text()) {
			v, err := strconv.ParseFloat(w, 64)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, v)
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return rows
}

func force(t *testing.T, a, b Cylinder, gap, offset float64) Pull {
	t.Helper()
	p, err := Force(a, b, mm(gap), mm(offset))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.8g, want %.8g ± %.2g", what, got, want, tolerance)
	}
}
