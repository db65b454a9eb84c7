// SPDX-License-Identifier: Apache-2.0

// Package background models what a pixel looks like that shows what it showed, or the
// bare board: in the same light, in another, or in a shadow; and the colours of surfaces.
package background
