// SPDX-License-Identifier: Apache-2.0

// Package camera delivers pictures: from a folder of files, or from a network
// camera that serves motion JPEG.
package camera

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	_ "image/jpeg" // the formats that cameras and people keep
	_ "image/png"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"boardhand/internal/photo"
)

// Folder reads the pictures of a folder in name order.
type Folder struct {
	dir   string
	names []string
	next  int
}

// OpenFolder lists the JPEG and PNG files of dir.
func OpenFolder(dir string) (*Folder, error) {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("%s: no such folder of pictures", dir)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read the folder of pictures: %w", err)
	}
	f := &Folder{dir: dir}
	for _, e := range entries {
		switch strings.ToLower(filepath.Ext(e.Name())) {
		case ".jpg", ".jpeg", ".png":
			f.names = append(f.names, e.Name())
		}
	}
	if len(f.names) == 0 {
		return nil, fmt.Errorf("%s: no .jpg or .png pictures in this folder", dir)
	}
	sort.Strings(f.names)
	return f, nil
}

// Names lists the pictures in the order of reading.
func (f *Folder) Names() []string { return f.names }

// Look returns the next picture, or io.EOF after the last. A picture that
// cannot be read is an error that names it; the one after it comes next.
func (f *Folder) Look(ctx context.Context) (photo.Picture, error) {
	if err := ctx.Err(); err != nil {
		return photo.Picture{}, err
	}
	look, err := f.take()
	if err != nil {
		return photo.Picture{}, err
	}
	return look()
}

// take takes the next picture, to be read whenever there is time; io.EOF after the last.
func (f *Folder) take() (func() (photo.Picture, error), error) {
	if f.next >= len(f.names) {
		return nil, io.EOF
	}
	path := filepath.Join(f.dir, f.names[f.next])
	f.next++
	return func() (photo.Picture, error) { return ReadPicture(path) }, nil
}

// ReadPicture reads and decodes one file.
func ReadPicture(path string) (photo.Picture, error) {
	name := filepath.Base(path)
	info, err := os.Stat(path)
	if err != nil {
		return photo.Picture{Name: name}, fmt.Errorf("%s: cannot be opened: %w", name, err)
	}
	if info.Size() > largestPicture {
		return photo.Picture{Name: name}, fmt.Errorf("%s: %d bytes is too large for a picture", name, info.Size())
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return photo.Picture{Name: name}, fmt.Errorf("%s: cannot be read: %w", name, err)
	}
	return Decode(name, data)
}

// Decode makes a picture of the bytes of a JPEG or PNG file.
func Decode(name string, data []byte) (photo.Picture, error) {
	p := photo.Picture{Name: name}
	if len(data) == 0 {
		return p, fmt.Errorf("%s: the file is empty", name)
	}
	c, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return p, fmt.Errorf("%s: not a picture that can be read (JPEG or PNG): %w", name, err)
	}
	if isTooLarge(c) {
		return p, fmt.Errorf("%s: %d × %d pixels is too large", name, c.Width, c.Height)
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return p, fmt.Errorf("%s: the picture is broken: %w", name, err)
	}
	p.Image = img
	if format == "jpeg" {
		p.JPEG = data
	}
	return p, nil
}

// isTooLarge says whether a picture may take too much memory, by its header: deep
// PNGs have two bytes for each of four colours.
func isTooLarge(c image.Config) bool {
	each := 4
	switch c.ColorModel {
	case color.RGBA64Model, color.NRGBA64Model:
		each = 8
	}
	return int64(c.Width)*int64(c.Height) > int64(largestUnpacked/each)
}

// Close does nothing: no file stays open.
func (f *Folder) Close() {}
