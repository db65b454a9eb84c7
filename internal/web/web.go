// SPDX-License-Identifier: Apache-2.0

// Package web serves the pages on which a guest and the maker see the game:
// Game for the guest, Bench for the maker, Bring-up before the first game, Drawing office for the rig. It is an edge: it knows its own
// wire types and nothing of the session that fills them.
//
// The wire. GET /events is a stream of server-sent events. The first is named
// "snapshot" and holds everything known; each later one is named "part" and
// holds only what changed. Both carry the same JSON object, Event. One named
// "beat" comes every second, so that a page notices when the program hangs. POST
// /api/hand, /api/answer, /api/request and /api/resume take one JSON object each,
// /api/halt takes anything, /api/step one object where a machine is brought up;
// they answer {"ok":true} or {"error":"…"}. GET /picture is the newest JPEG, GET /papers/… what a
// bring-up has on paper; below /office/ is what package office serves.
//
// Lengths on the wire are millimetres in the board frame (origin at the
// field's centre, x from file a to h, y from rank 1 to 8); keys say so.
package web

import "boardhand/internal/frame"

// Place is a spot on the board plane as it goes over the wire: [x, y] in mm,
// or [u, v] in pixels where the key ends in px.
type Place [2]float64

// MM turns a spot in metres into a place in millimetres.
func MM(s frame.Spot[frame.Board]) Place {
	return Place{s.X * 1e3, s.Y * 1e3}
}

// PathMM turns a polyline in metres into places in millimetres.
func PathMM(path []frame.Spot[frame.Board]) []Place {
	out := make([]Place, len(path))
	for i, s := range path {
		out[i] = MM(s)
	}
	return out
}
