package chess

import "testing"

func TestQuick(t *testing.T) {
	for _, c := range []struct {
		fen   string
		depth int
		n     uint64
	}{
		{startFEN, 5, 4865609},
		{"r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1", 4, 4085603},
		{"8/2p5/3p4/KP5r/1R3p1k/8/4P1P1/8 w - - 0 1", 6, 11030083},
		{"r3k2r/Pppp1ppp/1b3nbN/nP6/BBP1P3/q4N2/Pp1P2PP/R2Q1RK1 w kq - 0 1", 4, 422333},
		{"rnbq1k1r/pp1Pbppp/2p5/8/2B5/8/PPP1NnPP/RNBQK2R w KQ - 1 8", 4, 2103487},
	} {
		p, err := ParseFEN(c.fen)
		if err != nil {
			t.Fatal(err)
		}
		if n := p.Perft(c.depth); n != c.n {
			t.Errorf("%s: %d want %d", c.fen, n, c.n)
		}
		if p.FEN() != c.fen {
			t.Errorf("%s", p.FEN())
		}
	}
}

func BenchmarkPerftQ(b *testing.B) {
	for _, c := range []struct {
		fen   string
		depth int
	}{
		{startFEN, 5}, {"r3k2r/p1ppqpb1/bn2pnp1/3PN3/1p2P3/2N2Q1p/PPPBBPPP/R3K2R w KQkq - 0 1", 4},
	} {
		b.Run(c.fen[:5], func(b *testing.B) {
			p, _ := ParseFEN(c.fen)
			var n uint64
			for b.Loop() {
				n += p.Perft(c.depth)
			}
			b.ReportMetric(float64(n)/b.Elapsed().Seconds()/1e6, "Mnodes/s")
		})
	}
}
