// SPDX-License-Identifier: Apache-2.0

// Package silhouette tells which pixels a piece covers, and which pieces hide each other.
// Pieces are solids of revolution seen by one camera, so the outline of one that stands
// depends on its kind, its build and its distance from the camera's foot point alone.
package silhouette
