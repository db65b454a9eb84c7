// SPDX-License-Identifier: Apache-2.0

package view

// The numbers of this package that were set by hand: unit, meaning, how each was
// found, and what doubling it does.

// silentAfter is how many pictures in a row may fail, or be the same to the byte,
// before people are told. Reasoned: one or two are lost on a busy bus. Doubling it
// doubles how long nobody knows why nothing happens.
const silentAfter = 3

// handAfter is how many pictures in a row show a hand before the guest is told where:
// some three seconds at five pictures a second. Reasoned; doubling it doubles how long
// a guest wonders why nothing happens.
const handAfter = 15

// handAgain is after how many more pictures with that hand it is said again: twelve
// seconds. Reasoned; doubling it lets a guest wait longer who did not hear it.
const handAgain = 4 * handAfter

// RemindAfter is how many settled pictures of a board that stays as it is go by before
// it is said again what is missing: half a minute at one look in three seconds.
// Reasoned; doubling it lets a person wait longer who did not hear it.
const RemindAfter = 8

// Flickers is after how many settled pictures other squares are worth another word,
// and how many pictures that name other squares each time are taken for one sight.
// Reasoned: as many as a picture of noise may differ in a row. Doubling it delays what
// is said of a second change by three pictures.
const Flickers = 3
