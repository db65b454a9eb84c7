// SPDX-License-Identifier: Apache-2.0

package ranking

import (
	"context"
	"math/rand"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"boardhand/internal/assess"
	"boardhand/internal/budget"
	"boardhand/internal/draft"
	"boardhand/internal/propose"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
	"boardhand/internal/yield"
)

// A hair of yield is worth no money, a percent is; of two alike the faster one comes first.
func TestOrder(t *testing.T) {
	base := Rig{Candidate: 5, Works: 0.991, Cost: 12.84, Time: 5}
	for _, c := range []struct {
		name string
		is   func(*Rig)
		want int
	}{
		{"a hair surer, dearer", func(r *Rig) { r.Works, r.Cost = 0.992, 65.74 }, 1},
		{"a percent surer, dearer", func(r *Rig) { r.Works, r.Cost = 1, 65.74 }, -1},
		{"cheaper", func(r *Rig) { r.Cost = 12.80 }, -1},
		{"cheaper by less than a cent, slower", func(r *Rig) { r.Cost, r.Time = 12.8399, 5.3 }, 1},
		{"faster", func(r *Rig) { r.Time = 4.8 }, -1},
		{"faster by a blink, later in the stock", func(r *Rig) { r.Time, r.Candidate = 4.98, 6 }, 1},
	} {
		other := base
		c.is(&other)
		if got := other.better(base); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// The front is that of brute force, written plainly.
func TestFront(t *testing.T) {
	const seed = 11
	t.Log("seed", seed)
	rng := rand.New(rand.NewSource(seed))
	for range 50 {
		var all []Rig
		for n := range 60 {
			all = append(all, Rig{Candidate: n, Works: 0.9 + 0.01*float64(rng.Intn(8)), Cost: float64(rng.Intn(8)), Time: float64(rng.Intn(8))})
		}
		var got, want []int
		for _, r := range frontOf(all) {
			got = append(got, r.Candidate)
		}
		for i, r := range all {
			if !slices.ContainsFunc(all, func(o Rig) bool {
				notWorse := o.Works >= r.Works && o.Cost <= r.Cost && o.Time <= r.Time
				return notWorse && (o.Works > r.Works || o.Cost < r.Cost || o.Time < r.Time || o.Candidate < r.Candidate)
			}) {
				want = append(want, i)
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Fatalf("front %v, by brute force %v", got, want)
		}
	}
}

const fewParts = `
[[magnet]]
name = "small"
diameter = "5 mm"
thickness = "2 mm"
grade = "N42"
use = "foot"
price = 0.5
[[magnet]]
name = "usual"
diameter = "6 mm"
thickness = "2 mm"
grade = "N42"
use = "foot"
owned = 18
[try]
square = ["40 mm", "44 mm"]
speed = ["100 mm/s", "120 mm/s"]
`

func found(t testing.TB, text, stock string) *propose.Result {
	t.Helper()
	r, err := rig.Parse("rig.toml", []byte(text), rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	parts, err := propose.ParseStock("stock.toml", []byte(stock))
	if err != nil {
		t.Fatal(err)
	}
	space, err := propose.NewSpace(r, parts)
	if err != nil {
		t.Fatal(err)
	}
	return space.Search(context.Background(), space.Shard(1, 1), nil)
}

// What a ranking says of its rigs is what assess and its builds say of the files that it
// writes; refined rigs pass as before and are no slower; the order is that of the figures.
func TestRankingIsTrue(t *testing.T) {
	ctx := context.Background()
	search := found(t, rig.DefaultText, fewParts)
	got, err := Of(ctx, search, rig.DefaultText, 40)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.IsSortedFunc(got.Rigs, Rig.better) || len(got.Rigs) < 3 {
		t.Fatalf("not in order, or too few: %+v", got.Rigs)
	}
	faster := 0
	for _, r := range got.Rigs {
		was := slices.IndexFunc(slices.Concat(search.Rigs, search.Pareto), func(p propose.Proposal) bool { return p.Candidate == r.Candidate })
		if before := slices.Concat(search.Rigs, search.Pareto)[was]; r.Time < before.Time-timeStep {
			faster++
		} else if r.Time > before.Time+timeStep {
			t.Errorf("candidate %d takes %.2f s, before refining %.2f s", r.Candidate, r.Time, before.Time)
		}
		text, err := propose.Write(rig.DefaultText, r.Set)
		if err != nil {
			t.Fatal(err)
		}
		made, err := rig.Parse("new.toml", []byte(text), rig.Machine)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range assess.Judge(made) {
			if c.Verdict == assess.Fail || c.ID == propose.TimeLine && c.Value != r.Time {
				t.Errorf("candidate %d, %s: %s, %g; ranked with %g s", r.Candidate, c.ID, c.Verdict, c.Value, r.Time)
			}
		}
		if works := yieldOf(t, made, r.Builds); works != r.Works {
			t.Errorf("candidate %d: %g of the builds work, ranked with %g", r.Candidate, works, r.Works)
		}
	}
	if faster == 0 {
		t.Error("nothing became faster by refining")
	}
	saysWhy(t, got)
}

// A ranking is the same on one core as on several, each of which draws rigs of its own.
func TestSameOnAnyNumberOfCores(t *testing.T) {
	search := found(t, rig.DefaultText, fewParts)
	var all []*Ranking
	for _, cores := range []int{1, 3} {
		was := runtime.GOMAXPROCS(cores)
		got, err := Of(context.Background(), search, rig.DefaultText, 20)
		runtime.GOMAXPROCS(was)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, got)
	}
	if !reflect.DeepEqual(all[0], all[1]) {
		t.Errorf("on one core %+v, on three %+v", all[0], all[1])
	}
}

// saysWhy wants three sentences whose figures are those of the rigs.
func saysWhy(t *testing.T, got *Ranking) {
	first := got.Rigs[0]
	if len(got.Why) != 3 || !strings.HasPrefix(got.Why[0], "Rig 1 ") || !strings.Contains(got.Why[0], yield.Share(first.Works)) ||
		!strings.HasPrefix(got.Why[1], "It gives up ") || !strings.Contains(got.Why[2], first.Limit) {
		t.Errorf("of %+v it is said: %q", first, got.Why)
	}
	for _, s := range got.Why {
		if strings.Count(s+" ", ". ") != 1 || !strings.HasSuffix(s, ".") {
			t.Errorf("not one sentence: %q", s)
		}
	}
}

func yieldOf(t testing.TB, r *rig.Rig, n int) float64 {
	t.Helper()
	of, err := budget.Of(r)
	if err != nil {
		t.Fatal(err)
	}
	m, err := yield.Of(r, of)
	if err != nil {
		t.Fatal(err)
	}
	got, err := m.Run(context.Background(), yield.Options{Builds: n, Seed: seed})
	if err != nil {
		t.Fatal(err)
	}
	return got.Works
}

// What the first rig gives up is told by the front's own figures.
func TestWhatIsGivenUp(t *testing.T) {
	sure, cheap, fast := Rig{Candidate: 1, Works: 1, Cost: 20, Time: 5, Limit: "drag.slip", Reserve: 2.3}, Rig{Candidate: 2, Works: 0.92, Cost: 8, Time: 6}, Rig{Candidate: 3, Works: 1, Cost: 31, Time: 4}
	r := &Ranking{Rigs: []Rig{sure, fast, cheap}}
	r.Front = frontOf(r.Rigs)
	r.Why = r.reasons("EUR")
	want := []string{"Rig 1 comes first since it is the cheapest of the 2 of which as many builds play a whole game (100 %): 20.00 EUR, the next 31.00 EUR.",
		"It gives up 12.00 EUR, since p1 costs 8.00 EUR but only 92.0 % of its builds work; and 1.0 s of its longest carry, since p3 takes 4.0 s for 31.00 EUR.",
		"What limits it is drag.slip, with 2.3 standard deviations in reserve."}
	if !slices.Equal(r.Why, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(r.Why, "\n"), strings.Join(want, "\n"))
	}
	alone := &Ranking{Rigs: []Rig{sure}, Front: []Rig{sure}}
	if why := alone.reasons("EUR"); !strings.HasPrefix(why[1], "It gives up nothing") {
		t.Errorf("alone: %q", why)
	}
}

// From nothing to a machine of which 99 in 100 builds play a whole game, in two steps: a
// draft of the size, and the first rig that a stock of sixty parts gives around it.
func TestTwoStepsToAMachine(t *testing.T) {
	stock, err := os.ReadFile(filepath.Join("..", "..", "..", "examples", "parts", "stock.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(stock), "\n[["); n != 60 {
		t.Errorf("the stock has %d parts", n)
	}
	wishes := []draft.Wish{{Square: unit.MM(25)}, {Square: unit.MM(50), Carried: "both", Removal: "tray"}}
	if testing.Short() {
		wishes = wishes[:1]
	}
	for _, w := range wishes {
		text, err := draft.Text(context.Background(), w)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Of(context.Background(), found(t, text, string(stock)), text, 60)
		if err != nil || len(got.Rigs) == 0 {
			t.Fatalf("%v: no rig: %v", w.Square, err)
		}
		if text, err = propose.Write(text, got.Rigs[0].Set); err != nil {
			t.Fatal(err)
		}
		made, err := rig.Parse("best.toml", []byte(text), rig.Machine)
		if err != nil {
			t.Fatal(err)
		}
		if verdict := assess.Worst(assess.Judge(made)); verdict == assess.Fail {
			t.Errorf("%v: the rig is judged %s", w.Square, verdict)
		}
		works := yieldOf(t, made, 2000)
		t.Logf("%v: %s of 2000 builds work, cost %.2f, %s", w.Square, yield.Share(works), got.Rigs[0].Cost, got.Rigs[0].Limit)
		if works < 0.99 {
			t.Errorf("%v: %s of the builds work", w.Square, yield.Share(works))
		}
	}
}
