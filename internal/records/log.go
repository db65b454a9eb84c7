// SPDX-License-Identifier: Apache-2.0

package records

import (
	"cmp"
	"context"
	"encoding/json"
	"strings"
	"time"

	"boardhand/internal/gamelog"
	"boardhand/internal/rig"
	"boardhand/internal/store"
	"boardhand/internal/terminal"
)

// PrintPGN prints a game; of a damaged one what comes before the damage.
func PrintPGN(ctx context.Context, o *terminal.Out, s *store.Store, id int64) error {
	g, err := s.Game(ctx, id)
	if err != nil {
		return err
	}
	k, err := gamelog.Tell(ctx, s, g)
	if k.Game == nil {
		return err
	}
	text := gamelog.PGN(g, k)
	if o.JSON {
		if err := o.Object(map[string]string{"pgn": text}); err != nil {
			return err
		}
	} else {
		o.Printf("%s", text)
	}
	return err
}

// PrintLog prints what happened in a game.
func PrintLog(ctx context.Context, o *terminal.Out, s *store.Store, id int64) error {
	if _, err := s.Game(ctx, id); err != nil {
		return err
	}
	entries, broken := s.Entries(ctx, id)
	for _, e := range entries {
		if err := printEntry(o, e); err != nil {
			return err
		}
	}
	if !o.JSON {
		o.Printf("Pictures: %s\n", s.Pictures(id))
	}
	return broken
}

// printEntry prints one entry of a log.
func printEntry(o *terminal.Out, e store.Entry) error {
	if o.JSON {
		l := logLine{N: e.N, At: e.At.Format(time.RFC3339Nano), State: e.State, Move: e.Move, Text: e.Note, Picture: e.Picture,
			Back: e.Back, Pieces: e.Standing, Event: e.Event, Detail: object(e.Detail)}
		if e.Damaged != nil {
			l = logLine{N: e.N, Damaged: e.Damaged.Error()}
		}
		return o.Object(l)
	}
	if e.Damaged != nil {
		o.Printf("%5d  %v\n", e.N, e.Damaged)
		return nil
	}
	text := cmp.Or(e.Note, strings.ReplaceAll(e.Event, "_", " "))
	o.Printf("%5d  %s  %-10s %-6s %s\n", e.N, e.At.Local().Format("2006-01-02 15:04:05"), e.State, cmp.Or(e.Move, e.Back), text)
	return nil
}

// object is a detail as it is kept; what is not JSON is printed as text.
func object(detail string) json.RawMessage {
	if detail == "" || json.Valid([]byte(detail)) {
		return json.RawMessage(detail)
	}
	text, _ := json.Marshal(detail) // a string always can
	return text
}

type logLine struct {
	N       int             `json:"n"`
	At      string          `json:"at,omitempty"`
	State   string          `json:"state,omitempty"`
	Move    string          `json:"move,omitempty"`
	Text    string          `json:"text"`
	Picture string          `json:"picture,omitempty"`
	Back    string          `json:"taken_back,omitempty"`
	Pieces  string          `json:"pieces,omitempty"` // where they are, when one beside the board has changed
	Event   string          `json:"event,omitempty"`
	Detail  json.RawMessage `json:"detail,omitempty"`
	Damaged string          `json:"damaged,omitempty"`
}

// PrintRig prints the rig file as it was when a game began.
func PrintRig(ctx context.Context, o *terminal.Out, s *store.Store, id int64) error {
	g, err := s.Game(ctx, id)
	if err != nil {
		return err
	}
	text := g.RigText
	if text == "" && g.Rig == "" {
		text = rig.DefaultText
	}
	if text == "" {
		o.Complain("the rig file was not kept with game %d, which an older boardhand began; it was %s", id, g.Rig)
		return terminal.ErrNo
	}
	if o.JSON {
		return o.Object(map[string]string{"path": g.Rig, "rig": text})
	}
	o.Printf("%s", text)
	return nil
}
