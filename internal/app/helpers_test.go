// SPDX-License-Identifier: Apache-2.0

package app

import "boardhand/internal/chess"

// board is which piece stands on each square.
type board = [64]chess.Piece

func sq(name string) chess.Square { return chess.SquareAt(int(name[0]-'a'), int(name[1]-'1')) }
