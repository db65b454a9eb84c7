//go:build !race

package search

const underRace = false
