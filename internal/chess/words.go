package chess

import "fmt"

// ColorNamed is the side that a rig or a stored game names: "white", otherwise
// Black.
func ColorNamed(name string) Color {
	if name == White.String() {
		return White
	}
	return Black
}

// SquareNames writes squares like "e4".
func SquareNames(squares []Square) []string {
	names := make([]string, len(squares))
	for i, s := range squares {
		names[i] = s.String()
	}
	return names
}

// SANs writes the moves of a game from its first position on; never nil.
func (g *Game) SANs() []string {
	out := []string{}
	pos := g.Start
	for _, m := range g.Moves {
		out = append(out, pos.SAN(m))
		pos.Make(m)
	}
	return out
}

// PieceLettered reads the letter of a piece as in a FEN.
func PieceLettered(letter string) (Piece, error) {
	for _, c := range []Color{White, Black} {
		for k := Pawn; k <= King; k++ {
			if p := MakePiece(c, k); letter == string(p.Letter()) {
				return p, nil
			}
		}
	}
	return NoPiece, fmt.Errorf("%q is not the letter of a piece", letter)
}
