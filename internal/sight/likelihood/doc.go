// SPDX-License-Identifier: Apache-2.0

// Package likelihood is the observation of one picture against the scene and the
// background model, and by how many nats pieces gone and arrived make it likelier.
package likelihood
