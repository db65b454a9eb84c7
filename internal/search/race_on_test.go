//go:build race

package search

const underRace = true
