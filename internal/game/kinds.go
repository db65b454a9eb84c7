// SPDX-License-Identifier: Apache-2.0

package game

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// MostKinds is the most kinds of pieces that a game may have.
const MostKinds = 7

// ByKind holds something for each kind of a game's pieces; for NoKind too.
type ByKind[T any] [MostKinds + 1]T

// Kinds are the kinds of a game's pieces, in the order in which a rig file lists
// them. Each has a name and a letter of its own.
type Kinds struct {
	order   [MostKinds]Kind
	count   int
	names   ByKind[string]
	letters ByKind[byte] // upper case
}

// ChessKinds are those of chess.
var ChessKinds = func() Kinds {
	ks, err := KindsNamed([]string{"king", "queen", "bishop", "knight", "rook", "pawn"})
	if err != nil {
		panic("game: " + err.Error()) // a programmer's mistake, caught by the tests
	}
	return ks
}()

// kindName is what the name of a kind may be: a bare key of a rig file.
var kindName = regexp.MustCompile(`^[a-z][a-z_]*$`)

// KindsNamed are the kinds with these names, like "disc" or "tall_disc". A letter is
// the first one of the name that no kind before has. Where all names are those of
// chess, the kinds are too; else they are numbered as they come.
func KindsNamed(names []string) (Kinds, error) {
	out := Kinds{letters: ByKind[byte]{NoKind: ' '}}
	if len(names) < 1 || len(names) > MostKinds {
		return out, fmt.Errorf("a game has 1 to %d kinds of pieces; got %d", MostKinds, len(names))
	}
	areChess := !slices.ContainsFunc(names, func(n string) bool { return !slices.Contains(chessNames[1:], n) })
	for i, name := range names {
		k := Kind(i + 1)
		if areChess {
			k = Kind(slices.Index(chessNames[:], name))
		}
		if !kindName.MatchString(name) {
			return out, fmt.Errorf(`a kind of pieces is named in small letters and _, like "tall_disc"; got %q`, name)
		}
		if slices.Contains(out.names[:], name) {
			return out, fmt.Errorf("the kind %s is named twice", name)
		}
		letter, err := out.freeLetter(name)
		if err != nil {
			return out, err
		}
		out.names[k], out.letters[k], out.order[i], out.count = name, letter, k, i+1
	}
	return out, nil
}

// freeLetter is the first letter of a name that no kind has yet.
func (ks *Kinds) freeLetter(name string) (byte, error) {
	for _, c := range []byte(strings.ToUpper(name)) {
		if c != '_' && !slices.Contains(ks.letters[:], c) {
			return c, nil
		}
	}
	return 0, fmt.Errorf("the kind %s has no letter of its own: those of its name are taken by kinds before it", name)
}

// All lists the kinds.
func (ks *Kinds) All() []Kind { return ks.order[:ks.count] }

// InChess is how many pieces of a kind each side begins a game of chess with.
func InChess(k Kind) int {
	switch k {
	case Pawn:
		return 8
	case King, Queen:
		return 1
	}
	return 2
}

// Ascending lists the kinds by their numbers: of chess, from the pawn to the king.
func (ks *Kinds) Ascending() []Kind { return slices.Sorted(slices.Values(ks.All())) }

// Key is the name of a kind in a rig file.
func (ks *Kinds) Key(k Kind) string { return ks.names[k] }

// Keys are the names of all kinds in a rig file.
func (ks *Kinds) Keys() (out []string) {
	for _, k := range ks.All() {
		out = append(out, ks.Key(k))
	}
	return out
}

// Name is what people call a kind.
func (ks *Kinds) Name(k Kind) string { return strings.ReplaceAll(ks.names[k], "_", " ") }

// NameOf is what people call a piece: "white tall disc"; "empty" for NoPiece.
func (ks *Kinds) NameOf(p Piece) string {
	if p == NoPiece {
		return "empty"
	}
	return p.Color().String() + " " + ks.Name(p.Kind())
}

// Letter is the letter of a kind, upper case; a space for NoKind.
func (ks *Kinds) Letter(k Kind) byte { return ks.letters[k] }

// LetterOf is the letter of a piece: upper case White, lower case Black.
func (ks *Kinds) LetterOf(p Piece) byte {
	if p.Color() == Black {
		return ks.Letter(p.Kind()) | 0x20
	}
	return ks.Letter(p.Kind())
}

// Lettered is the kind with an upper-case letter; NoKind for any other character.
func (ks *Kinds) Lettered(letter rune) Kind {
	for _, k := range ks.All() {
		if letter == rune(ks.Letter(k)) {
			return k
		}
	}
	return NoKind
}

// PieceLettered reads the letter of a piece as in a placement.
func (ks *Kinds) PieceLettered(letter string) (Piece, error) {
	for _, c := range []Color{White, Black} {
		for _, k := range ks.All() {
			if p := MakePiece(c, k); letter == string(ks.LetterOf(p)) {
				return p, nil
			}
		}
	}
	upper := ks.lettersText()
	return NoPiece, fmt.Errorf("%q is not the letter of a piece: give one of %s for White, %s for Black", letter, upper, strings.ToLower(upper))
}

// lettersText are all letters, the kind with the highest number first.
func (ks *Kinds) lettersText() string {
	all := slices.SortedFunc(slices.Values(ks.All()), func(a, b Kind) int { return cmp.Compare(b, a) })
	var out strings.Builder
	for _, k := range all {
		out.WriteByte(ks.Letter(k))
	}
	return out.String()
}
