// SPDX-License-Identifier: Apache-2.0

// Package paper puts the judgement of a rig on paper and screen: one HTML page
// or a PDF of A4 pages, with the drawings of package assess in ink lines.
package paper
