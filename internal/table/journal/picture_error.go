// SPDX-License-Identifier: Apache-2.0

package journal

// PictureError says that a record was kept without its picture.
type PictureError struct{ Err error }

func (e *PictureError) Error() string { return "a picture could not be kept: " + e.Err.Error() }

// Unwrap is why.
func (e *PictureError) Unwrap() error { return e.Err }
