// SPDX-License-Identifier: Apache-2.0

//go:build race

package chess

const underRace = true
