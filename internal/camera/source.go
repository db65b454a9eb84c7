// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"context"
	"fmt"
	"strings"

	"boardhand/internal/photo"
)

// Source is a camera that must be closed after use.
type Source interface {
	// Look returns the next picture. It waits for it, but not longer than ctx.
	Look(ctx context.Context) (photo.Picture, error)
	Close()
}

// Open opens the camera that a rig file names in camera.source: "v4l2:/dev/video0",
// "http://…" (motion JPEG) or "folder:…". Size is camera.image, in pixels.
func Open(ctx context.Context, source string, size [2]int) (Source, error) {
	kind, rest, _ := strings.Cut(source, ":")
	switch kind {
	case "v4l2":
		return OpenVideo(ctx, rest, size[0], size[1])
	case "http", "https":
		return OpenStream(ctx, source)
	case "folder":
		return OpenFolder(rest)
	}
	return nil, fmt.Errorf(`camera.source = %q is no camera: write "v4l2:/dev/video0" (see ls /dev/v4l/by-id), "http://…" for motion JPEG, or "folder:…"`, source)
}
