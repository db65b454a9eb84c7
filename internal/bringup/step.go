// SPDX-License-Identifier: Apache-2.0

package bringup

import (
	"context"

	"boardhand/internal/measured"
)

// need is what a step finds prepared; each includes those before it.
type need int

const (
	nothing need = iota
	bareBoard
	homedAxes
	caughtPiece
)

// Step is one part of a bring-up.
type Step struct {
	Name   string // as in the file of what was measured
	Title  string
	Says   string // what it is about
	Moves  string // what will move, after "Now"; "": nothing
	needs  need
	isDone func(*measured.File) bool
	run    func(*Session, context.Context) error
}

// IsDone says whether the step was done.
func (s Step) IsDone(f *measured.File) bool { return s.isDone(f) }

// Steps are all of them, in order.
var Steps = []Step{
	{"cautions", "Cautions", cautions, "", nothing, func(f *measured.File) bool { return f.Cautions != nil }, (*Session).caution},
	{"controller", "Controller", "Who drives the motors.", "", nothing, func(f *measured.File) bool { return f.Controller != nil }, (*Session).nameController},
	{"lens", "Lens", "What the camera's lens does, by pictures of a printed checkerboard: one flat picture cannot part height from focal length.", "", nothing,
		func(f *measured.File) bool { return f.Lens != nil }, (*Session).measureLens},
	{"camera", "Camera", "Where the camera hangs, by a picture of the bare board.", "", bareBoard, func(f *measured.File) bool { return f.Camera != nil }, (*Session).measureCamera},
	{"homing", "Homing", "Both axes find their zeros.", "", homedAxes, func(f *measured.File) bool { return f.Homing != nil }, (*Session).checkHoming},
	{"travel", "Travel and cables", "The carriage goes along the whole rectangle of its travel, magnet lowered; every cable shows its longest run.",
		"the carriage goes slowly to the four corners of its travel.", homedAxes, func(f *measured.File) bool { return f.Travel != nil }, (*Session).tryTravel},
	{"direction", "Direction", "A piece shows which way each axis goes.", "the carriage carries the piece 30 mm to the right and 30 mm towards rank 8.", caughtPiece,
		func(f *measured.File) bool { return f.Direction != nil }, (*Session).checkDirection},
	{"axes", "Axes", "The piece is carried over a pattern of squares while the camera measures it: steps, squareness, where the board lies, backlash and lag.",
		"the carriage carries the piece over all of the board.", caughtPiece, func(f *measured.File) bool { return f.Axes != nil }, (*Session).measureAxes},
	{"lead", "Lead", "Where a piece stands once the magnet has sunk beneath it.", "the carriage carries the piece a few squares and lowers the magnet, several times.", caughtPiece,
		func(f *measured.File) bool { return f.Lead != nil }, (*Session).measureLead},
	{"returns", "Returns", "How well the carriage comes back to one place.", "the carriage goes away and comes back ten times.", caughtPiece,
		func(f *measured.File) bool { return f.Returns != nil }, (*Session).measureReturns},
	{"speed", "Speed", "How fast a piece can be carried.", "the carriage carries the piece to and fro, faster each time, until it is lost or the axes go no faster.", caughtPiece,
		func(f *measured.File) bool { return f.Speed != nil }, (*Session).measureSpeed},
	{"gap", "Gap", "How near a carried piece may pass a standing one.", "", caughtPiece,
		func(f *measured.File) bool { return f.Gap != nil }, (*Session).measureGap},
}

const cautions = `Neodymium magnets pinch, shatter, wipe cards and stop pacemakers: keep them 15 cm away
  from anyone who has an implant. Two swallowed magnets are dangerous: keep pieces from small
  children. Use a listed extra-low-voltage adapter. The carriage does not feel a finger: have
  the plug or the stop at hand. Ctrl-C, and on the page the red bar, stop all motion at once.`
