// SPDX-License-Identifier: Apache-2.0

// Package docs holds the manual's pages and pictures, so that the program can
// show them without the internet.
package docs

import "embed"

// Files are the pages (Markdown) and their pictures (SVG), by name.
//
//go:embed *.md *.svg
var Files embed.FS
