// SPDX-License-Identifier: Apache-2.0

// Package cast finds the lamp over a board by the shadows that its pieces cast on it, and
// tells by the shadow that is there, or is missing, whether a piece stands at a place.
package cast
