// SPDX-License-Identifier: Apache-2.0

package app

import (
	"context"
	"path/filepath"
	"strings"
	"testing"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/rehearsal"
	"boardhand/internal/rehearsal/fixture"
	"boardhand/internal/rig"
	"boardhand/internal/session"
	"boardhand/internal/table"
	"boardhand/internal/table/journal"
	"boardhand/internal/table/places"
	"boardhand/internal/twin"
)

// set is a player who always plays the same move.
type set chess.Move

// Choose plays it.
func (m set) Choose(context.Context, *chess.Game) (chess.Move, error) { return chess.Move(m), nil }

// Weigh is asked for no draw here.
func (m set) Weigh(context.Context, *chess.Game) (int, error) { return 0, nil }

// chuteRig is the machine with a trapdoor where the tray's h side would be.
func chuteRig(t *testing.T) string {
	t.Helper()
	return write(t, filepath.Join(t.TempDir(), "chute.toml"), chuteText(t))
}

func chuteText(t *testing.T) string {
	t.Helper()
	return strings.Replace(fixture.Tray(t, "both"), "mode = \"tray\"\nslots = 16\ngap = \"40 mm\"", "mode = \"chute\"\nchute = [\"200 mm\", \"0 mm\"]", 1)
}

// oneMove has the machine make one move on the twin and returns the table, the
// referee who compared it with the truth, and what the guest was asked for.
func oneMove(t *testing.T, rigFile, standing, uci string) (*rehearsal.Referee, []string) {
	t.Helper()
	r, err := rig.Load(rigFile, rig.Machine)
	if err != nil {
		t.Fatal(err)
	}
	at, err := places.ParseStanding(standing)
	if err != nil {
		t.Fatal(err)
	}
	pos, err := chess.ParseFEN(strings.Fields(standing)[0] + " b - - 0 1")
	if err != nil {
		t.Fatal(err)
	}
	return playOne(t, oneGame{rig: r, pos: pos, standing: &at, move: move(t, pos, uci), seed: 3})
}

// oneGame is a game in which the machine makes one move.
type oneGame struct {
	rig      *rig.Rig
	pos      chess.Position
	standing *places.Standing // nil: nobody beside the board
	move     chess.Move
	seed     int64
	gantry   func(*twin.World) table.Gantry // nil: the twin's own
}

// playOne plays it as a rehearsal does. Nothing may go wrong in it.
func playOne(t *testing.T, g oneGame) (*rehearsal.Referee, []string) {
	t.Helper()
	whole(t)
	b, err := session.SetUp(g.rig, g.pos, twin.Options{Seed: g.seed, FEN: g.pos.FEN(), Beside: session.Aside(g.standing, g.rig.Slots())})
	if err != nil {
		t.Fatal(err)
	}
	m, err := b.Rehearsed(set(g.move), nil)
	if err != nil {
		t.Fatal(err)
	}
	m.Settings.Suspects = nil
	if g.gantry != nil {
		connect := m.Connect
		m.Connect = func() table.Parts {
			p := connect()
			p.Gantry = g.gantry(b.World)
			return p
		}
	}
	asks := &asking{Guest: m.Guest}
	m.Guest = asks
	ref := rehearsal.NewReferee(m, rehearsal.Spec{Number: 1, Seed: g.seed, Plies: 1})
	if err := ref.Play(t.Context(), journal.Past{Game: chess.NewGame(g.pos), Standing: g.standing}, false); err != nil {
		t.Fatalf("%v\n%s", err, ref.Log())
	}
	if sum := ref.Tally(); sum.Plies != 1 || sum.LostState+sum.Collisions+sum.Drags+sum.Slips != 0 {
		t.Errorf("the move was not clean: %+v\n%s", sum, ref.Log())
	}
	return ref, asks.asked
}

// asking is a guest that notes what is asked of it.
type asking struct {
	rehearsal.Guest
	asked []string
}

// Tell notes a notice that asks for something to be done to the pieces.
func (a *asking) Tell(ctx context.Context, n notice.Notice) error {
	if n.Kind == notice.PleasePut || n.Kind == notice.PleaseTake || n.Kind == notice.PleaseMend {
		a.asked = append(a.asked, n.Text)
	}
	return a.Guest.Tell(ctx, n)
}

// With the queen in the tray the machine changes the pawn for it by itself.
func TestPromotionFromTheTray(t *testing.T) {
	ref, asked := oneMove(t, trayRig(t, "both"), "r1b1k2r/1pp2ppp/2n5/8/8/2N2N2/p1P2PPP/3R1RK1 q@slot7 P@person", "a2a1q")
	if len(asked) > 0 {
		t.Errorf("asked for %q; the queen stands in the tray", asked)
	}
	if got := ref.Standing().String(); !strings.HasPrefix(got, "r1b1k2r/1pp2ppp/2n5/8/8/2N2N2/2P2PPP/q2R1RK1 ") || !strings.Contains(got, " p@slot") || strings.Contains(got, "q@") {
		t.Errorf("the pieces stand at %s", got)
	}
}

// With a chute there is no queen at hand: one sentence asks for the exchange.
func TestPromotionWithAChute(t *testing.T) {
	ref, asked := oneMove(t, chuteRig(t), "r1b1k2r/1pp2ppp/2n5/8/8/2N2N2/p1P2PPP/3R1RK1 q@chute", "a2a1q")
	if len(asked) != 1 || !strings.Contains(asked[0], "queen") || !strings.Contains(asked[0], "a1") {
		t.Errorf("asked %q, want one sentence for a queen on a1", asked)
	}
	if got := ref.Standing().String(); !strings.HasPrefix(got, "r1b1k2r/1pp2ppp/2n5/8/8/2N2N2/2P2PPP/q2R1RK1") {
		t.Errorf("the pieces stand at %s", got)
	}
}

// To what the machine promotes is its own decision: that a picture cannot tell
// a knight from a bishop for sure does not hold the game up.
func TestPromotionToAnyKind(t *testing.T) {
	for _, kind := range []string{"n", "b", "r"} {
		t.Run(kind, func(t *testing.T) {
			ref, asked := oneMove(t, chuteRig(t), "1r2k1nr/p1p2ppp/8/2b5/8/2P1q1P1/PP1p2KP/4R2R r@chute n@person b@person", "d2e1"+kind)
			if len(asked) != 1 {
				t.Errorf("asked %q, want one sentence", asked)
			}
			if got := ref.Standing().String(); !strings.HasPrefix(got, "1r2k1nr/p1p2ppp/8/2b5/8/2P1q1P1/PP4KP/4"+kind+"2R") {
				t.Errorf("the pieces stand at %s", got)
			}
		})
	}
}

// Advise has no advice.
func (set) Advise(context.Context, *chess.Game) (chess.Move, error) { return 0, nil }

// SetStrength has only one strength.
func (set) SetStrength(string) error { return nil }
