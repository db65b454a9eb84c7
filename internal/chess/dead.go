package chess

// Dead says that neither side can mate by any series of legal moves (FIDE
// 5.2.2). It never says so wrongly; positions that are dead in deeper ways may
// be missed. It knows: a king against a king; one knight; any number of
// bishops all on squares of one colour.
func (p *Position) Dead() bool {
	if p.kinds[Pawn]|p.kinds[Rook]|p.kinds[Queen] != 0 {
		return false
	}
	knights, bishops := p.kinds[Knight], p.kinds[Bishop]
	if knights == 0 {
		return bishops&lightSquares == 0 || bishops&darkSquares == 0
	}
	return bishops == 0 && !knights.several()
}
