package app

import (
	"context"
	"errors"
	"fmt"
	"sync"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/table"
	"boardhand/internal/web"
)

// host stands between the table and the pages: it turns what happens into
// what the pages show, and what a visitor does into hands, answers and stops.
type host struct {
	e       *evening
	answers chan int

	mu     sync.Mutex
	table  *table.Table // at which the game is played now
	asked  bool
	fen    string // what the guest is asked to set the board to, when that is many men
	roster *roster
	plies  int         // of the game as the pages show it
	state  table.State // likewise
	viewed bool
	said   string // the last line of the log
}

func newHost(e *evening) *host { return &host{e: e, answers: make(chan int)} }

// seat begins a game at a table.
func (h *host) seat(t *table.Table) {
	h.mu.Lock()
	h.table = t
	h.mu.Unlock()
}

// seated is the table at which the game is played now.
func (h *host) seated() *table.Table {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.table
}

// guest is the twin's, or the visitor at the page.
func (h *host) guest() table.Guest {
	if h.e.f.visitor {
		return visitor{h}
	}
	return h.e.bench.world.Guest()
}

// visitor is the guest at the page: what is told is on the page already.
type visitor struct{ h *host }

func (v visitor) Tell(ctx context.Context, n notice.Notice) error {
	if n.Kind == notice.YourMove {
		v.h.e.bench.world.Visitor().Offer(n.Slot)
	}
	return ctx.Err()
}

func (v visitor) Ask(ctx context.Context, _ notice.Question) (int, error) {
	v.h.setAsked(true)
	defer v.h.setAsked(false)
	select {
	case <-ctx.Done():
		return 0, ctx.Err()
	case i := <-v.h.answers:
		return i, nil
	}
}

func (h *host) setAsked(yes bool) {
	h.mu.Lock()
	h.asked = yes
	h.mu.Unlock()
}

var errTwinGuest = errors.New("the guest is simulated in this game; start it with --visitor to move the men yourself")

// Hand moves a man as the visitor's hand.
func (h *host) Hand(_ context.Context, act web.HandAct) error {
	if !h.e.f.visitor {
		return errTwinGuest
	}
	v := h.e.bench.world.Visitor()
	if v.Busy() {
		return errors.New("your hand is still moving; wait a moment")
	}
	to, err := squareOf(act.To)
	if err != nil {
		return err
	}
	if act.From == web.Off {
		piece, err := pieceOf(act.Piece)
		if err != nil {
			return err
		}
		return v.PutMan(piece, to)
	}
	from, err := squareOf(act.From)
	if err != nil {
		return err
	}
	return v.MoveMan(from, to)
}

// Answer hands the visitor's answer to the question that waits for it.
func (h *host) Answer(ctx context.Context, choice int) error {
	h.mu.Lock()
	asked := h.asked
	h.mu.Unlock()
	if !asked {
		return errors.New("nothing is being asked just now")
	}
	select {
	case h.answers <- choice:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// noted remembers what a notice asks for, if it is too much for single buttons.
func (h *host) noted(n notice.Notice) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.fen = ""
	if len(n.Acts) > mostWanted || n.Kind == notice.PleaseMend && len(n.Acts) == 0 && len(n.Squares) > mostWanted {
		h.fen = n.FEN
	}
}

// offers lists what may be wished for now.
func (h *host) offers() []web.Offer {
	out := []web.Offer{}
	h.mu.Lock()
	fen := h.fen
	h.mu.Unlock()
	if fen != "" && h.e.f.visitor {
		out = append(out, web.Offer{Wish: web.Wish{For: web.WishArrange}, Text: "Set the men as asked"})
	}
	switch over := h.state == table.Over; {
	case over && (h.e.f.leave || h.seated().Arranged()):
		return out
	case !over && h.state != table.Guesting && h.state != table.Reading:
		return out
	case over:
		out = append(out, web.Offer{Wish: web.Wish{For: web.WishNextGame}, Text: "Set the men up again"})
	}
	if h.plies >= 1 {
		out = append(out, web.Offer{Wish: web.Wish{For: web.WishTakeBack, Plies: 1}, Text: "Take back the last move"})
	}
	if h.plies >= 2 {
		out = append(out, web.Offer{Wish: web.Wish{For: web.WishTakeBack, Plies: 2}, Text: "Take back the last two moves"})
	}
	return out
}

// Wish grants what somebody at a page, or at the terminal, wishes for.
func (h *host) Wish(_ context.Context, w web.Wish) error {
	switch w.For {
	case web.WishTakeBack:
		return h.seated().Request(table.Request{Kind: table.RequestBack, Plies: w.Plies})
	case web.WishNextGame:
		return h.seated().Request(table.Request{Kind: table.RequestNew})
	}
	h.mu.Lock()
	fen := h.fen
	h.mu.Unlock()
	v := h.e.bench.world.Visitor()
	switch {
	case !h.e.f.visitor:
		return errTwinGuest
	case fen == "":
		return errors.New("nothing is being asked of you just now")
	case v.Busy():
		return errors.New("your hand is still moving; wait a moment")
	}
	return v.Arrange(fen)
}

// Halt stops the motors.
func (h *host) Halt(context.Context) error {
	yes := true
	h.e.server.Publish(web.Event{Halted: &yes})
	return h.seated().Halt()
}

// Resume lets the machine go on.
func (h *host) Resume(context.Context) error {
	no := false
	h.e.server.Publish(web.Event{Halted: &no})
	return h.seated().Request(table.Request{Kind: table.RequestResume})
}

// squareOf reads "e4"; "off" is beside the board.
func squareOf(name string) (chess.Square, error) {
	if name == web.Off {
		return chess.NoSquare, nil
	}
	if len(name) == 2 && name[0] >= 'a' && name[0] <= 'h' && name[1] >= '1' && name[1] <= '8' {
		return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1')), nil
	}
	return chess.NoSquare, fmt.Errorf("%q is not a square", name)
}

// pieceOf reads a FEN letter.
func pieceOf(letter string) (chess.Piece, error) {
	for _, c := range []chess.Color{chess.White, chess.Black} {
		for k := chess.Pawn; k <= chess.King; k++ {
			if p := chess.MakePiece(c, k); letter == string(p.Letter()) {
				return p, nil
			}
		}
	}
	return chess.NoPiece, fmt.Errorf("%q is not the letter of a man", letter)
}
