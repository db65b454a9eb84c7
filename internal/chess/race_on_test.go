//go:build race

package chess

const underRace = true
