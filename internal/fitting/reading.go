// SPDX-License-Identifier: Apache-2.0

// Package fitting takes what a maker measures of a machine's parts with a kitchen scale, a
// rule and a tilted board, and says what the rig file should have: remanence, friction and
// spring, each with its standard deviation.
package fitting

import (
	"errors"
	"fmt"
	"strings"

	"boardhand/internal/drag"
	"boardhand/internal/game"
	"boardhand/internal/rig"
	"boardhand/internal/unit"
)

// Pull is the force of two magnets face to face on one axis.
type Pull struct {
	Force unit.Force
	Gap   unit.Length
}

// Slip is how far off the raised magnet was when a standing piece began to move.
type Slip struct {
	Kind   game.Kind
	Offset unit.Length
}

// Press is the force with which the spring presses back when it is pressed so far beyond
// where it stands raised.
type Press struct {
	Force unit.Force
	Way   unit.Length
}

// Readings are all that was measured.
type Readings struct {
	Pulls   []Pull // the drive magnet with one of a base
	Bases   []Pull // two of bases
	Tilts   []unit.Angle
	Slips   []Slip
	Presses []Press
}

// Read takes readings as they are typed: "62 g at 5 mm", "17 deg", "king at 3.1 mm".
func Read(r *rig.Rig, pulls, bases, tilts, slips, presses []string) (out Readings, err error) {
	read := func(flag string, all []string, one func(first, second string) error) {
		for _, text := range all {
			first, second, _ := strings.Cut(text, " at ")
			if e := one(strings.TrimSpace(first), strings.TrimSpace(second)); e != nil && err == nil {
				err = fmt.Errorf("--%s %q: %w", flag, text, e)
			}
		}
	}
	pair := func(into *[]Pull) func(first, second string) error {
		return func(first, second string) error {
			p := Pull{}
			e := errors.Join(force(first, &p.Force), length(second, &p.Gap))
			*into = append(*into, p)
			return e
		}
	}
	read("pull", pulls, pair(&out.Pulls))
	read("pull-bases", bases, pair(&out.Bases))
	read("tilt", tilts, func(first, _ string) error {
		var a unit.Angle
		e := a.UnmarshalText([]byte(first))
		if e == nil && !(a.Degrees() > 1 && a.Degrees() < 60) {
			e = errors.New("a piece slides between 1 and 60 degrees")
		}
		out.Tilts = append(out.Tilts, a)
		return e
	})
	read("slip", slips, func(first, second string) error {
		s := Slip{Kind: game.NoKind}
		for _, k := range r.Pieces.Kinds().All() {
			if r.Pieces.Kinds().Name(k) == first {
				s.Kind = k
			}
		}
		out.Slips = append(out.Slips, s)
		if s.Kind == game.NoKind {
			return fmt.Errorf("no kind of piece is called %q; write it like \"king at 3.1 mm\"", first)
		}
		return length(second, &out.Slips[len(out.Slips)-1].Offset)
	})
	read("press", presses, func(first, second string) error {
		p := Press{}
		e := errors.Join(force(first, &p.Force), length(second, &p.Way))
		out.Presses = append(out.Presses, p)
		return e
	})
	return out, err
}

// force reads a force, or the grams that a kitchen scale shows.
func force(text string, into *unit.Force) error {
	var m unit.Mass
	if m.UnmarshalText([]byte(text)) == nil {
		*into = unit.Force(float64(m) * drag.Gravity)
	} else if err := into.UnmarshalText([]byte(text)); err != nil {
		return fmt.Errorf("%w; or the grams of a scale; write it like \"62 g at 5 mm\"", err)
	}
	if !(*into > 0) {
		return errors.New("the force must be above 0")
	}
	return nil
}

func length(text string, into *unit.Length) error {
	if text == "" {
		return errors.New("where is missing; write it like \"62 g at 5 mm\"")
	}
	return into.UnmarshalText([]byte(text))
}
