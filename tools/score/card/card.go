// SPDX-License-Identifier: Apache-2.0

// Package card holds what the reader of pictures made of sets of pictures, as
// a table that people read, that is committed, and that the next run is
// compared with.
package card

import (
	"encoding/json"
	"os"
)

// Edges divide the beliefs stated by the reader: bin k holds those from
// Edges[k] up to Edges[k+1].
var Edges = []float64{0, 0.5, 0.8, 0.9, 0.95, 0.975, 0.985, 1.01}

// Bins is the number of bins.
const Bins = 7

// Count is how many of how many.
type Count struct{ Is, Of int }

// Row is what the reader made of one set of pictures, a person giving the
// truth wherever the reader asked.
type Row struct {
	Name     string
	Pictures int
	Moves    Count       // finished moves read as that very move
	Wrong    int         // moves read where none was finished, or another
	Asked    Count       // pictures without a hand left in doubt
	Still    Count       // pictures on which nothing happened, read so
	Hands    Count       // hands told as hands
	Odd      Count       // half-done and illegal states told as what they are
	Failed   int         // pictures answered with an error
	Beliefs  [Bins]Count // answers that came true, by the belief stated
	Surprise float64     // mean −ln of the belief given to what came true, nats
	Median   float64     // error of an offset along one side, mm
	Most     float64     // the same, 95 % of them
	Sigmas   float64     // 95 % of errors over the stated standard deviation
	Lead     float64     // by which the best explanation leads the next, geometric mean, nats
	Left     float64     // area that the best explanation leaves unexplained, mean, mm²
	Cover    float64     // area that a hand covers, mean, mm²
	View     float64     // miss of the field's corners by the view that was found, mean, px
	CPU      float64     // processor time a picture, mean, ms; 0: not told
}

// Card is the rows of one run.
type Card []Row

// Row finds a row; nil when there is none.
func (c Card) Row(name string) *Row {
	for i := range c {
		if c[i].Name == name {
			return &c[i]
		}
	}
	return nil
}

// Only keeps the rows of the given names.
func (c Card) Only(names []string) Card {
	var out Card
	for _, n := range names {
		if r := c.Row(n); r != nil {
			out = append(out, *r)
		}
	}
	return out
}

// Result is one run: the card, and what each picture was read as, a line a
// picture.
type Result struct {
	Card     Card
	Readings []string
}

// Save writes a run for another program.
func (r Result) Save(path string) error {
	text, err := json.MarshalIndent(r, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(path, append(text, '\n'), 0o644)
}

// Load reads what Save wrote.
func Load(path string) (Result, error) {
	var r Result
	text, err := os.ReadFile(path)
	if err != nil {
		return r, err
	}
	return r, json.Unmarshal(text, &r)
}
