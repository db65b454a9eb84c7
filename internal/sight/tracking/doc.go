// SPDX-License-Identifier: Apache-2.0

// Package tracking is what is learnt of one table in one light, from picture to picture: the
// scene in the last settled picture, and the model that pictures are compared with.
package tracking
