// SPDX-License-Identifier: Apache-2.0

package host

import (
	"context"
	"errors"
	"slices"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/web"
)

// question is one that waits for its answer. Nobody else's answer can reach it.
type question struct {
	n        uint64 // as the page knows it
	asked    notice.Question
	order    []int    // of the choices, as the page shows them
	answer   chan int // holds one: giving it waits for nobody
	answered bool
}

var errSettled = errors.New("that question has been settled already")

// pose makes a question the one that waits. The caller holds mu.
func (h *Host) pose(q notice.Question) *question {
	h.asked++
	h.question = &question{n: h.asked, asked: q, order: queenFirst(q), answer: make(chan int, 1)}
	return h.question
}

// ask waits for the answer to a question that the page shows already: it may
// have been given by now, since the page was told first.
func (h *Host) ask(ctx context.Context, q notice.Question) (int, error) {
	h.mu.Lock()
	now := h.question
	if now == nil || !slices.Equal(now.asked.Choices, q.Choices) || now.asked.Number != q.Number {
		now = h.pose(q)
		h.publish(web.Event{Question: h.shownQuestion()})
	}
	h.mu.Unlock()
	defer h.settle(now)
	select {
	case <-ctx.Done():
		return 0, ctx.Err()
	case i := <-now.answer:
		return i, nil
	}
}

// settle forgets a question that waits no longer.
func (h *Host) settle(q *question) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.question == q {
		h.question = nil
	}
}

// Answer hands the visitor's answer to the question with that number.
func (h *Host) Answer(_ context.Context, number uint64, choice int) error {
	h.mu.Lock()
	defer h.mu.Unlock()
	q := h.question
	switch {
	case h.o.Seat == Simulated:
		return errTwinGuest
	case q == nil || q.n != number || q.answered:
		return errSettled
	case choice < 0 || choice >= len(q.order):
		return errors.New("that is none of the choices")
	}
	q.answered = true
	i := q.order[choice]
	if m, ok := h.owed(q.asked, i); ok { // the pawn is exchanged first
		piece := chess.MakePiece(h.pos.SideToMove(), m.Promotion())
		err := h.begin(notice.Act{Piece: piece, From: chess.NoSquare, To: m.To()}, func() { q.answer <- i })
		h.showHand(web.Event{Question: &web.Question{}})
		return err
	}
	q.answer <- i
	return nil
}

// owed says whether an answer names a promotion whose pawn still stands on its
// last square.
func (h *Host) owed(q notice.Question, i int) (chess.Move, bool) {
	if i >= len(q.Moves) || q.Moves[i].Promotion() == chess.NoKind || h.o.Seat != AtThePage {
		return 0, false
	}
	m := q.Moves[i]
	return m, h.hand.board(h.standing)[m.To()] == chess.MakePiece(h.pos.SideToMove(), chess.Pawn)
}

// queenFirst is the order in which the choices are shown: what a pawn becomes
// from the queen down, all others as they come.
func queenFirst(q notice.Question) []int {
	order := make([]int, len(q.Choices))
	for i := range order {
		order[i] = i
	}
	var at, promotions []int
	for i, m := range q.Moves {
		if m.Promotion() != chess.NoKind && i < len(order) {
			at, promotions = append(at, i), append(promotions, i)
		}
	}
	slices.SortStableFunc(promotions, func(a, b int) int {
		return int(q.Moves[b].Promotion()) - int(q.Moves[a].Promotion())
	})
	for k, i := range at {
		order[i] = promotions[k]
	}
	return order
}

// shownQuestion is the question as the page shows it. The caller holds mu.
func (h *Host) shownQuestion() *web.Question {
	q := h.question
	out := &web.Question{N: q.n, Text: q.asked.Text}
	for _, i := range q.order {
		out.Choices = append(out.Choices, q.asked.Choices[i])
	}
	return out
}
