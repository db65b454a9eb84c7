// SPDX-License-Identifier: Apache-2.0

package chess

import (
	"math/rand"
	"slices"
	"strings"
	"testing"

	reference "github.com/corentings/chess/v2"
)

// The reference module marks an underpromotion with the check tag of the queen
// promotion of the same pawn, and copies the tag into the next position. Its
// FEN is right, so after a promotion the position is read anew from its FEN,
// and the check marks of underpromotions are not compared.

// referencePosition reads a FEN into the reference module.
func referencePosition(t testing.TB, fen string) *reference.Position {
	t.Helper()
	option, err := reference.FEN(fen)
	if err != nil {
		t.Fatalf("%s: %v", fen, err)
	}
	return reference.NewGame(option).Position()
}

// compareMoves compares the legal moves of both, with their notation.
func compareMoves(t *testing.T, p *Position, ref *reference.Position) []Move {
	t.Helper()
	ours, theirs := map[string]Move{}, map[string]string{}
	moves := p.LegalMoves(nil)
	for _, m := range moves {
		ours[m.String()] = m
	}
	for _, m := range ref.ValidMoves() {
		theirs[m.String()] = reference.AlgebraicNotation{}.Encode(ref, &m)
	}
	for text, m := range ours {
		want, ok := theirs[text]
		got := p.SAN(m)
		if !ok {
			t.Fatalf("%s: %s is legal for us alone", p.FEN(), text)
		}
		if k := m.Promotion(); k != NoKind && k != Queen {
			got, want = strings.TrimRight(got, "+#"), strings.TrimRight(want, "+#")
		}
		if got != want {
			t.Fatalf("%s: %s is %q, want %q", p.FEN(), text, got, want)
		}
		if back, err := p.ParseSAN(p.SAN(m)); err != nil || back != m {
			t.Fatalf("%s: %q reads as %s (%v), want %s", p.FEN(), p.SAN(m), back, err, m)
		}
	}
	if len(ours) != len(theirs) {
		t.Fatalf("%s: %d legal moves, want %d", p.FEN(), len(ours), len(theirs))
	}
	return moves
}

func TestRandomGamesMoveForMoveWithTheReference(t *testing.T) {
	const seed, games, plies = 20261125, 30, 200
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewSource(seed))
	n := games
	if underRace {
		n = games / 6
	}
	for g := range n {
		start := startFEN
		if g%3 == 1 { // positions rich in castling and promotions
			start = perftCases[g%len(perftCases)].fen
		}
		p, ref := mustFEN(t, start), referencePosition(t, start)
		for range plies {
			moves := compareMoves(t, &p, ref)
			if len(moves) == 0 {
				break
			}
			m := moves[rng.Intn(len(moves))]
			all := ref.ValidMoves()
			i := slices.IndexFunc(all, func(r reference.Move) bool { return r.String() == m.String() })
			ref = ref.Update(&all[i])
			p.Make(m)
			if m.Promotion() != NoKind {
				ref = referencePosition(t, ref.String())
			}
			if got, want := p.FEN(), ref.String(); got != want {
				t.Fatalf("after %s: FEN %s, want %s", m, got, want)
			}
		}
		compareStatus(t, &p, ref)
	}
}

// compareStatus compares mate and stalemate.
func compareStatus(t *testing.T, p *Position, ref *reference.Position) {
	t.Helper()
	got := p.outcome(1).Reason
	want := map[reference.Method]Reason{reference.Checkmate: Checkmate, reference.Stalemate: Stalemate}[ref.Status()]
	if (got == Checkmate || got == Stalemate) && got != want || want != NoReason && got != want {
		t.Fatalf("%s: %q, want %q", p.FEN(), got, want)
	}
}

// The cases in which the reference goes wrong (seen in version 2.3.2), and what is right.
func TestUnderpromotionGivesNoCheckOfAQueen(t *testing.T) {
	p := mustFEN(t, kiwipete)
	for _, text := range []string{"h1g1", "h3g2", "g1h1", "g2g1b"} {
		m, err := p.ParseUCI(text)
		if err != nil {
			t.Fatal(err)
		}
		if text == "g2g1b" && p.SAN(m) != "g1=B" {
			t.Errorf("SAN %s, want g1=B", p.SAN(m))
		}
		p.Make(m)
	}
	if moves := p.LegalMoves(nil); len(moves) != 46 || !p.Legal(MakeMove(4, 2, NoKind)) {
		t.Errorf("%d moves, want 46 with e1c1", len(moves))
	}
	for _, text := range []string{"f7f8b", "f7f8n"} {
		p := mustFEN(t, "7k/5P2/6K1/8/2B5/8/8/8 w - - 0 1")
		m, err := p.ParseUCI(text)
		if err != nil {
			t.Fatal(err)
		}
		after := p.After(m)
		if o := after.outcome(1); o.Reason != Stalemate {
			t.Errorf("after %s: %s, want stalemate", text, o)
		}
	}
}

// perftReference counts as Perft does, with the reference module, reading
// positions anew after promotions.
func perftReference(t testing.TB, p *reference.Position, depth int) uint64 {
	moves := p.ValidMoves()
	if depth == 1 {
		return uint64(len(moves))
	}
	var n uint64
	for i := range moves {
		next := p.Update(&moves[i])
		if moves[i].Promo() != reference.NoPieceType {
			next = referencePosition(t, next.String())
		}
		n += perftReference(t, next, depth-1)
	}
	return n
}

// BenchmarkPerft counts with bulk counting, on one core, ours beside the reference.
func BenchmarkPerft(b *testing.B) {
	for i, name := range []string{"start", "kiwipete"} {
		fen := perftCases[i].fen
		b.Run(name+"/ours", func(b *testing.B) {
			p := mustFEN(b, fen)
			var n uint64
			for b.Loop() {
				n += p.Perft(5 - i)
			}
			b.ReportMetric(float64(n)/b.Elapsed().Seconds()/1e6, "Mnodes/s")
		})
		b.Run(name+"/reference", func(b *testing.B) {
			p := referencePosition(b, fen)
			var n uint64
			for b.Loop() {
				n += perftReference(b, p, 4-i)
			}
			b.ReportMetric(float64(n)/b.Elapsed().Seconds()/1e6, "Mnodes/s")
		})
	}
}
