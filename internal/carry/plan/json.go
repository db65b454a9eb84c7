// SPDX-License-Identifier: Apache-2.0

package plan

import (
	"encoding/json"
	"math"

	"boardhand/internal/frame"
	"boardhand/internal/game"
)

// planJSON is a plan as `route` prints it: board frame, millimetres, seconds.
type planJSON struct {
	Steps  []stepJSON `json:"steps"`
	Time   float64    `json:"time_s"`
	Asks   int        `json:"asks"`
	Asides int        `json:"asides"`
	Doubt  string     `json:"doubt,omitempty"`
	FEN    string     `json:"fen,omitempty"`
	Beside string     `json:"beside,omitempty"`
}

// Told is what a plan is printed with.
type Told struct {
	Kinds  *game.Kinds
	Places func(frame.Spot[frame.Board]) string // names of places beside the board
	FEN    string                               // the position afterwards; empty when the game has none
	Tray   string                               // what then stands in the tray, like "P@L3 q@R2"
}

type stepJSON struct {
	Do        Do           `json:"do"`
	Path      [][2]float64 `json:"path_mm,omitempty"`
	PiecePath [][2]float64 `json:"piece_path_mm,omitempty"`
	Piece     string       `json:"piece,omitempty"`
	From      string       `json:"from,omitempty"`
	To        string       `json:"to,omitempty"`
	Text      string       `json:"text,omitempty"`
	Speed     float64      `json:"speed_mm_s,omitempty"`
	Time      float64      `json:"time_s,omitempty"`
}

// JSON is the plan as one JSON object.
func JSON(p Plan, with Told) ([]byte, error) {
	out := planJSON{Steps: []stepJSON{}, Time: rounded(float64(p.Time), 1e3), Asks: p.Asks(), Asides: p.Asides, Doubt: p.Doubt, FEN: with.FEN, Beside: with.Tray}
	for n, s := range p.Steps {
		j := stepJSON{Do: s.Do, Path: millimetres(s.Path), PiecePath: millimetres(s.PiecePath), Text: s.Text,
			Speed: rounded(float64(s.Speed), 1e6) * 1e3, Time: rounded(float64(s.Time), 1e3)}
		if s.Piece != game.NoPiece {
			j.Piece = with.Kinds.NameOf(s.Piece)
			j.From, j.To = p.Ends(n, with.Places)
		}
		out.Steps = append(out.Steps, j)
	}
	return json.Marshal(out)
}

// Ends are in words where the piece of step n comes from and where it goes: squares, and
// beside the board what the carry that it belongs to says of the place.
func (p Plan) Ends(n int, places func(frame.Spot[frame.Board]) string) (from, to string) {
	s := p.Steps[n]
	from, to = Place(s.From), Place(s.To)
	carry := n
	switch s.Do {
	case Grip:
		carry++
	case Release:
		carry--
	}
	if carry < 0 || carry >= len(p.Steps) || len(p.Steps[carry].PiecePath) == 0 {
		return from, to
	}
	path := p.Steps[carry].PiecePath
	first, last := path[0], path[len(path)-1]
	switch s.Do {
	case Grip:
		last = first
	case Release:
		first = last
	}
	if s.From >= game.NoSquare {
		from = places(first)
	}
	if s.To >= game.NoSquare {
		to = places(last)
	}
	return from, to
}

// Place is a square in words.
func Place(s game.Square) string {
	if s >= game.NoSquare {
		return "beside"
	}
	return s.String()
}

// millimetres rounds to the micrometre, a hundredth of what a drive can do.
func millimetres(path []frame.Spot[frame.Board]) [][2]float64 {
	out := make([][2]float64, len(path))
	for i, p := range path {
		out[i] = [2]float64{rounded(p.X*1e3, 1e3), rounded(p.Y*1e3, 1e3)}
	}
	return out
}

func rounded(v, per float64) float64 { return math.Round(v*per) / per }
