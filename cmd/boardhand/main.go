// SPDX-License-Identifier: Apache-2.0

// Command boardhand serves the whole job of building a table-top board game
// that moves its own pieces: think, buy and build, bring up, play, trust.
package main

import (
	"os"

	"boardhand/internal/app"
)

func main() { os.Exit(app.Main(os.Args[1:], os.Stdout, os.Stderr)) }
