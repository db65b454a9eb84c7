// SPDX-License-Identifier: Apache-2.0

package host

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/table/journal"
	"boardhand/internal/web"
)

// Desk is where the host hands in what people ask for.
type Desk interface{ Request(journal.Request) error }

// Desk is the table at which the game is played now.
func (h *Host) Desk() Desk {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.table == nil {
		return noDesk{}
	}
	return h.table
}

// noDesk is there before a game has begun.
type noDesk struct{}

// Request refuses.
func (noDesk) Request(journal.Request) error {
	return errors.New("no game has begun yet; wait a moment")
}

// Request does what somebody at a page, or at the terminal, asks for.
func (h *Host) Request(ctx context.Context, r web.Request) error {
	switch r.For {
	case web.ForArrange:
		return h.arrange()
	case web.ForResume:
		return h.Resume(ctx)
	}
	h.mu.Lock()
	pos := h.pos
	h.mu.Unlock()
	ask, err := requestOf(r, pos)
	if err != nil {
		return err
	}
	return h.Desk().Request(ask)
}

// requestOf is a page's request as the table takes it.
func requestOf(r web.Request, pos chess.Position) (journal.Request, error) {
	out := journal.Request{Kind: journal.RequestKind(r.For), Plies: r.Plies, Side: r.Side, Strength: r.Strength, Odds: r.Odds,
		Time: time.Duration(r.Time * float64(time.Second))}
	if r.FEN != "" {
		if _, err := chess.ParseFEN(r.FEN); err != nil {
			return out, fmt.Errorf("that position cannot be: %w", err)
		}
		out.FEN = r.FEN
	}
	if r.Move != "" {
		moves := pos.LegalMoves(nil)
		i := slices.IndexFunc(moves, func(m chess.Move) bool { return m.String() == r.Move })
		if i < 0 {
			return out, fmt.Errorf("%s is not a legal move here; choose one of the list", r.Move)
		}
		out.Move = moves[i]
	}
	return out, nil
}

// legalMoves are the moves that may be named, as the page lists them.
func legalMoves(pos chess.Position) []web.Legal {
	out := []web.Legal{}
	for _, m := range pos.LegalMoves(nil) {
		out = append(out, web.Legal{Move: m.String(), SAN: pos.SAN(m), Piece: string(pos.At(m.From()).Letter())})
	}
	return out
}

// openWays are what may be asked of the table now. The caller holds mu.
func (h *Host) openWays() []journal.RequestKind {
	return slices.DeleteFunc(slices.Clone(h.ways), func(k journal.RequestKind) bool {
		return k == journal.RequestBack && h.plies == 0 || k == journal.RequestNew && h.o.IsLast
	})
}

// awaits says whether the machine waits to be resumed. The caller holds mu.
func (h *Host) awaits() bool { return slices.Contains(h.openWays(), journal.RequestResume) }

// dropWay closes a way until the table says otherwise. The caller holds mu.
func (h *Host) dropWay(kind journal.RequestKind) {
	h.ways = slices.DeleteFunc(slices.Clone(h.ways), func(k journal.RequestKind) bool { return k == kind })
}

// wayTexts are the words on the buttons, in the order in which they are shown.
var wayTexts = []struct {
	kind journal.RequestKind
	text string
}{
	{journal.RequestBack, "Take back my move"},
	{journal.RequestHint, "A hint"},
	{journal.RequestNew, "New game"},
	{journal.RequestStrength, "How strongly I play"},
	{journal.RequestDraw, "Offer a draw"},
	{journal.RequestResign, "Resign"},
	{journal.RequestPlayed, "Name the move"},
	{journal.RequestRight, "It is right as it stands"},
	{journal.RequestPosition, "We agreed on another position"},
	{journal.RequestAfresh, "Look afresh"},
	{journal.RequestResume, "Resume"},
}

// offers lists what may be asked for now. The caller holds mu.
func (h *Host) offers() []web.Offer {
	out := []web.Offer{}
	if g, ok := h.goal(); ok && h.handsOff() == nil {
		out = append(out, web.Offer{Request: web.Request{For: web.ForArrange}, Text: g.text})
	}
	open := h.openWays()
	for _, w := range wayTexts {
		if !slices.Contains(open, w.kind) {
			continue
		}
		one := web.Offer{Request: web.Request{For: string(w.kind)}, Text: w.text}
		switch {
		case w.kind == journal.RequestBack:
			one.Request.Plies = h.myMove()
		case w.kind == journal.RequestHint && len(hintShown(h.notice, h.state)) == 1:
			one.Text = "Tell me the move"
		}
		out = append(out, one)
	}
	return out
}

// myMove is how many plies take the guest's last move back: with the machine's
// answer, if there is one.
func (h *Host) myMove() int {
	if h.pos.SideToMove() == h.machine {
		return 1
	}
	return min(2, h.plies)
}
