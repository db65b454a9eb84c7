package main

// truth is one line of truth.jsonl: what a frame shows, told against the
// position after the last finished move.
type truth struct {
	Frame   string                `json:"frame"`
	State   string                `json:"state"` // same, move, hand, partial, illegal
	Move    string                `json:"move"`  // UCI, for move
	FEN     string                `json:"fen"`   // after the frame
	Kind    string                `json:"kind"`  // which phenomenon
	Offsets map[string][2]float64 `json:"offsets"`
}

// shot is one picture to be taken.
type shot struct {
	truth truth
	men   []man
	extra string // hand or shadow, povray text
	view  view
	gain  float64    // exposure drift, 1: none
	white [3]float64 // white-balance drift per channel
}
