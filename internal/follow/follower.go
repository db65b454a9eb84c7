// SPDX-License-Identifier: Apache-2.0

// Package follow follows a game through a folder or a stream of pictures: the
// position advances where a picture shows a finished move, or a person said
// what was played. What it finds of each picture goes to an observer.
package follow

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"boardhand/internal/chess"
	"boardhand/internal/photo"
	"boardhand/internal/sight"
)

// Source is where pictures come from; io.EOF ends them. A picture that cannot
// be looked at is an error with the picture's name set, where it has one.
type Source interface {
	Look(ctx context.Context) (photo.Picture, error)
}

// Observer is told of every picture, in order. An error that Saw returns ends
// the following.
type Observer interface {
	// Saw tells what a picture shows, once the position has followed it.
	Saw(Sighting) error
	// Failed tells of a picture that could not be read; the position stays.
	Failed(frame, text string)
	// Stuck tells, once, that several pictures in a row do not fit the position.
	Stuck(Misfit)
	// Frozen tells, once, that so many pictures in a row are the same to the byte.
	Frozen(frame string, pictures int)
}

// Follower follows one game. It serves one goroutine.
type Follower struct {
	eye      *sight.Reader
	answers  Answers
	observer Observer
	past     []played // the moves that were read or told
	misfits  misfits
	repeats  repeats
	seen     int
	broken   int
	said     string // the last complaint, if nothing was read since
}

// played is a move of the game.
type played struct {
	before chess.Position
	move   chess.Move
}

// New makes a follower whose reader knows the position before the first
// picture; what a person said of the pictures counts, whatever they show.
func New(eye *sight.Reader, answers Answers, o Observer) *Follower {
	eye.LookFor(mostMissed)
	return &Follower{eye: eye, answers: answers, observer: o}
}

// Run follows the pictures to their end. An error says that ctx ended, that an
// answer cannot be, or how many pictures could not be read.
func (f *Follower) Run(ctx context.Context, from Source) error {
	for ; ; f.seen++ {
		pic, err := from.Look(ctx)
		if errors.Is(err, io.EOF) {
			break
		}
		if err := f.next(ctx, pic, err); err != nil {
			return err
		}
	}
	if f.broken > 0 {
		return fmt.Errorf("%d of %d pictures could not be read", f.broken, f.seen)
	}
	return nil
}

// next follows one picture, which could be looked at if lookErr is nil.
func (f *Follower) next(ctx context.Context, pic photo.Picture, lookErr error) error {
	if err := f.before(pic.Name); err != nil {
		return err
	}
	var r sight.Reading
	err := lookErr
	if err == nil {
		r, err = f.eye.Read(ctx, pic)
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		f.complain(pic.Name, err)
		a := f.answers[pic.Name]
		return f.happened(pic.Name, Answer{Moves: a.Moves, IsNothing: a.IsNothing})
	}
	f.said = ""
	return f.show(pic, r)
}

// complain tells of a picture that cannot be read; the position stays. A camera
// that stays away is told of once.
func (f *Follower) complain(name string, err error) {
	text := err.Error()
	if !strings.HasPrefix(text, name) {
		text = name + ": " + text
	}
	if text == f.said {
		f.seen--
		return
	}
	f.broken++
	f.said = text
	f.observer.Failed(name, text)
}

// show advances the position where the picture or the person says so, and tells
// the observer.
func (f *Follower) show(pic photo.Picture, r sight.Reading) error {
	if f.repeats.count(pic.JPEG) {
		f.observer.Frozen(pic.Name, f.repeats.pictures)
	}
	s, err := f.sight(pic, r)
	if err != nil {
		return err
	}
	return f.observer.Saw(s)
}

func (f *Follower) sight(pic photo.Picture, r sight.Reading) (Sighting, error) {
	a := f.answers[pic.Name]
	s := Sighting{Picture: pic, Reading: r, Before: f.eye.Position(), TakenBack: a.Back, IsSetUp: a.Set != ""}
	told, err := f.follow(pic.Name, r)
	if told {
		s.Answered = a
	}
	s.After = f.eye.Position()
	if m, ok := f.misfits.count(r, told); ok {
		m.Frame = pic.Name
		f.observer.Stuck(m)
	}
	return s, err
}
