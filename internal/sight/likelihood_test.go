// SPDX-License-Identifier: Apache-2.0

package sight

import (
	"fmt"
	"image"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/frame"
	"boardhand/internal/golden"
	"boardhand/internal/sight/background"
	"boardhand/internal/sight/likelihood"
	"boardhand/internal/sight/pixels"
	"boardhand/internal/sight/scene"
	"boardhand/internal/sight/tracking"
)

// These tests weigh hypotheses without any search: a recorded picture, the one
// before it, the true places of all pieces in both, and a change to the truth
// on one square at a time. What comes out is by how many nats the truth is
// likelier than the rival: pixels alone, no priors.

// table is who stands where, by square.
type table struct {
	board  scene.Occupancy
	places map[chess.Square]frame.Spot[frame.Board]
}

// tableOf is the truth of a recorded picture.
func (s *recording) tableOf(t *testing.T, k int) table {
	t.Helper()
	pos, err := chess.ParseFEN(s.frames[k].FEN)
	if err != nil {
		t.Fatal(err)
	}
	out := table{scene.OccupancyOf(&pos), map[chess.Square]frame.Spot[frame.Board]{}}
	for sq := range chess.NoSquare {
		off := s.frames[k].Offsets[sq.String()]
		out.places[sq] = s.setup.Centre(sq).Add(frame.Spot[frame.Board]{X: off[0], Y: off[1]}.Scale(1e-3))
	}
	return out
}

// with is the table with another piece, or none, on a square.
func (t table) with(sq chess.Square, p chess.Piece, at frame.Spot[frame.Board]) table {
	out := table{t.board, map[chess.Square]frame.Spot[frame.Board]{}}
	for s, place := range t.places {
		out.places[s] = place
	}
	out.board[sq], out.places[sq] = p, at
	return out
}

// remembered is an eye that has learnt the recorded picture k, every piece at
// its true place; with first it has only met the table and remembers nothing.
func (s *recording) remembered(t *testing.T, k int, first bool) *tracking.Tracker {
	t.Helper()
	was := s.tableOf(t, k)
	pos, err := chess.ParseFEN(s.frames[k].FEN)
	if err != nil {
		t.Fatal(err)
	}
	e, raw, err := NewReader(s.setup).learnTable(s.pixels(t, k), s.views[s.frames[0].Frame], pos, nil)
	if err != nil {
		t.Fatal(err)
	}
	if first {
		e.Place(was.places)
		return e
	}
	g := e.Observe(raw, false)
	e.Remember(g.Image, raw, was.board, was.places)
	return e
}

func (s *recording) pixels(t *testing.T, k int) image.Image {
	t.Helper()
	img, err := decode(s.picture(t, k))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// unmoved is how far, metres, a piece may stand from where it stood and still
// be the same picture: far less than a pixel.
const unmoved = 0.2e-3

// weighed is the log-likelihood of a table, nats, less that of nothing changed.
func weighed(g *likelihood.Observation, h table) float64 {
	gone, come := make([]bool, len(g.Scene.Pieces)), []scene.Placement(nil)
	stays := map[chess.Square]bool{}
	for k, m := range g.Scene.Pieces {
		same := h.board[m.Square] == m.Piece && h.places[m.Square].Distance(m.At) < unmoved
		gone[k], stays[m.Square] = !same, same
		if h.board[m.Square] == m.Piece && !same && g.Model.Phase() == background.Following { // touched: its own picture has moved
			n := g.Scene.Put(m.Piece, m.Square, h.places[m.Square])
			n.Nudged, n.Plain, n.Shift = &m.At, true, g.Scene.Plane.Displacement(m.At, n.At)
			come, stays[m.Square] = append(come, n), true
		}
	}
	for sq, p := range h.board {
		if s := chess.Square(sq); p != chess.NoPiece && !stays[s] {
			come = append(come, g.Scene.Put(p, s, h.places[s]))
		}
	}
	return float64(g.Weigh(gone, come))
}

// rival is what a square could hold instead.
type rival struct {
	name string
	h    table
}

// rivals are the hypotheses beside the truth that differ on one square: nobody
// there, the other side's piece, another kind, a piece pushed by a fifth of the
// square or into the next one; and somebody where nobody stands.
func rivals(setup scene.Setup, truth table, sq chess.Square) (out []rival) {
	p, at := truth.board[sq], truth.places[sq]
	pawn := [2]chess.Piece{chess.MakePiece(chess.White, chess.Pawn), chess.MakePiece(chess.Black, chess.Pawn)}
	if p == chess.NoPiece {
		for c, name := range [2]string{"white pawn", "black pawn"} {
			out = append(out, rival{name, truth.with(sq, pawn[c], setup.Centre(sq))})
		}
		return out
	}
	gone := truth.with(sq, chess.NoPiece, at)
	kind := chess.Queen
	if p.Kind() == chess.Queen {
		kind = chess.Pawn
	}
	out = append(out,
		rival{"nobody", gone},
		rival{"other side", truth.with(sq, chess.MakePiece(p.Color().Other(), p.Kind()), at)},
		rival{"pushed", truth.with(sq, p, at.Add(frame.Spot[frame.Board]{X: 0.2 * setup.Square}))},
		rival{"other kind", truth.with(sq, chess.MakePiece(p.Color(), kind), at)})
	for _, step := range [2]int{1, -1} {
		if f := sq.File() + step; f >= 0 && f < 8 {
			if next := chess.SquareAt(f, sq.Rank()); truth.board[next] == chess.NoPiece {
				return append(out, rival{"next square", gone.with(next, p, setup.Centre(next))})
			}
		}
	}
	return out
}

// sums are the margins of one kind of rival.
type sums struct {
	n           int
	least, mean float64
	at          string
}

// pairsWeighed are recorded pictures with the one that is remembered; equal
// numbers: the first picture of a game, with nothing remembered.
var pairsWeighed = []struct {
	game   string
	before int
	now    int
	what   string
}{
	{"green", 0, 0, "first picture"},
	{"green", 0, 1, "quiet move, the light drifts"},
	{"green", 15, 16, "a piece nudged"},
	{"green", 18, 19, "a shadow falls"},
	{"plastic", 0, 1, "quiet move"},
	{"plastic", 5, 6, "a shadow falls"},
	{"plastic", 6, 9, "en passant, a piece nudged"},
	{"mitres", 0, 0, "first picture"},
	{"mitres", 0, 1, "promotion by capture"},
	{"mitres", 3, 4, "promotion"},
	{"towers", 0, 1, "promotion by capture"},
}

// rivalNames is the order in which margins are written down.
var rivalNames = []string{"nobody", "other side", "next square", "pushed", "other kind", "white pawn", "black pawn"}

// leastMargin is by how many nats the truth must be likelier than any rival of a
// kind, whatever the kept text says: the least that was found, rounded down. A
// white pawn on a square of green on which a shadow has fallen is the one close
// thing, 3.5 nats; all others have thirty. Of the kind of a piece the outlines
// tell little, and sometimes the wrong one: that is for the heads.
var leastMargin = map[string]float64{
	"nobody": 30, "other side": 30, "next square": 60, "pushed": 25, "white pawn": 3, "black pawn": 30, "other kind": -2,
}

// The margins of all problems, as text; and none is below what its kind has.
func TestGoldenLikelihood(t *testing.T) {
	var b strings.Builder
	all := map[string]*sums{}
	games := map[string]*recording{}
	for _, p := range pairsWeighed {
		s := games[p.game]
		if s == nil {
			var err error
			if s, err = readScene(filepath.Join("testdata", "games", p.game)); err != nil {
				t.Fatal(err)
			}
			games[p.game] = s
		}
		e := s.remembered(t, p.before, p.before == p.now)
		g := e.Observe(pixels.Reduce(s.pixels(t, p.now), e.Reduce), false)
		fmt.Fprintf(&b, "%s %s after %s: %s\n", p.game, s.frames[p.now].Frame, s.frames[p.before].Frame, p.what)
		for name, v := range writeMargins(&b, g, s.tableOf(t, p.now)) {
			if all[name] == nil {
				all[name] = &sums{least: math.Inf(1)}
			}
			v.at += " in " + p.game + ", " + p.what
			all[name].add(*v)
		}
	}
	fmt.Fprintf(&b, "summary\n")
	for _, name := range rivalNames {
		fmt.Fprintf(&b, "  %s: %v\n", name, *all[name])
		if all[name].least < leastMargin[name] {
			t.Errorf("%s is only %.1f nats less likely than the truth at %s; %.0f are wanted", name, all[name].least, all[name].at, leastMargin[name])
		}
	}
	golden.Compare(t, "likelihood.txt", b.String())
}

// writeMargins writes down, square by square, by how many nats the truth is
// likelier than each rival.
func writeMargins(b *strings.Builder, g *likelihood.Observation, truth table) map[string]*sums {
	out := map[string]*sums{}
	top := weighed(g, truth)
	fmt.Fprintf(b, "  truth over nothing changed %.1f\n", top)
	for sq := range chess.NoSquare {
		name := fmt.Sprintf("%v %v", sq, letter(truth.board[sq]))
		fmt.Fprintf(b, "  %s:", name)
		for _, r := range rivals(g.Scene.Setup, truth, sq) {
			margin := top - weighed(g, r.h)
			fmt.Fprintf(b, " %s %.1f", r.name, margin)
			if out[r.name] == nil {
				out[r.name] = &sums{least: math.Inf(1)}
			}
			out[r.name].add(sums{1, margin, margin, name})
		}
		fmt.Fprintln(b)
	}
	for _, name := range rivalNames {
		if out[name] != nil {
			fmt.Fprintf(b, "  = %s: %v\n", name, *out[name])
		}
	}
	return out
}

func letter(p chess.Piece) string {
	if p == chess.NoPiece {
		return "–"
	}
	return string(p.Letter())
}

func (a *sums) add(b sums) {
	a.mean = (a.mean*float64(a.n) + b.mean*float64(b.n)) / float64(a.n+b.n)
	a.n += b.n
	if b.least < a.least-1e-6 {
		a.least, a.at = b.least, b.at
	}
}

func (a sums) String() string {
	return fmt.Sprintf("%d problems, mean %.2f nats, least %.1f at %s", a.n, a.mean, a.least, a.at)
}
