// SPDX-License-Identifier: Apache-2.0

//go:build !race

package search

const underRace = false
