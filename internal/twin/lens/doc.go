// SPDX-License-Identifier: Apache-2.0

// Package lens makes the twin's pictures: given what stands before the camera
// it draws it in the light of one evening, with shadows, glare and a guest's
// arm, as a small camera's lens, sensor and cable deliver it.
//
// It is given a Scene and gives a Picture; of the world behind the scene it
// knows nothing. Board frame, metres and radians. The same setting and the same
// scenes give the same pictures, to the last bit.
package lens
