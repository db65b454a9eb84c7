// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"fmt"
	"slices"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"boardhand/internal/game"
)

// Shapes are the kinds of pieces of a rig, each with its shape. Kinds that are not
// given are those of chess.
type Shapes struct {
	kinds game.Kinds
	of    game.ByKind[Piece]
}

// Kinds are the kinds of pieces that the rig has.
func (p *Pieces) Kinds() *game.Kinds { return p.Shapes.named() }

// Of is the shape of a kind of piece, to be read or changed; nil for NoKind.
func (p *Pieces) Of(k game.Kind) *Piece {
	if k == game.NoKind {
		return nil
	}
	return &p.Shapes.of[k]
}

// Lightest is the shape of the lightest kind.
func (p *Pieces) Lightest() *Piece {
	all := p.Kinds().All()
	out := p.Of(all[len(all)-1])
	for _, k := range all {
		if m := p.Of(k); m.Mass < out.Mass {
			out = m
		}
	}
	return out
}

func (s *Shapes) named() *game.Kinds {
	if len(s.kinds.All()) == 0 {
		return &game.ChessKinds
	}
	return &s.kinds
}

// kindsGiven are the kinds that a rig file names; those of chess when it names none.
func kindsGiven(entries []entry) (game.Kinds, []fault) {
	i := slices.IndexFunc(entries, func(e entry) bool { return e.key == "pieces.kinds" && e.kind == unstable.Array })
	if i < 0 {
		return game.ChessKinds, nil
	}
	var names []string
	for _, it := range entries[i].items {
		names = append(names, it.text)
	}
	kinds, err := game.KindsNamed(names)
	if clash := slices.IndexFunc(names, isOwnKey); err == nil && clash >= 0 {
		err = fmt.Errorf("%s is a key of [pieces] already: call the kind by another name", names[clash])
	}
	if err != nil {
		return game.ChessKinds, []fault{{entries[i].line, "pieces.kinds: " + err.Error()}}
	}
	return kinds, nil
}

// isOwnKey says whether a name stands in [pieces] for something else than a kind.
func isOwnKey(name string) bool {
	_, is := schema(&game.Kinds{})["pieces."+name]
	return is
}

// read takes the shapes out of the text of a rig file.
func (s *Shapes) read(data []byte) error {
	var file struct {
		Pieces map[string]any `toml:"pieces"`
	}
	if err := toml.Unmarshal(data, &file); err != nil {
		return err
	}
	for _, k := range s.kinds.All() {
		text, err := toml.Marshal(file.Pieces[s.kinds.Key(k)])
		if err != nil || file.Pieces[s.kinds.Key(k)] == nil {
			continue // not given
		}
		if err := toml.Unmarshal(text, &s.of[k]); err != nil {
			return err
		}
	}
	return nil
}
