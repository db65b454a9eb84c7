// SPDX-License-Identifier: Apache-2.0

// Package inference searches for the hypotheses that explain an observation best: where
// pieces stand in their squares, which of them were touched, fell, or stand where no rule
// puts them, and what stays unexplained.
package inference
