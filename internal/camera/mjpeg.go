// SPDX-License-Identifier: Apache-2.0

package camera

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"time"
)

// Stream reads a camera that serves motion JPEG over HTTP
// (multipart/x-mixed-replace, as network cameras do). It keeps only the newest
// picture, so that a slow reader sees the present and not the past.
type Stream struct {
	*newest
	url    string
	client *http.Client
	stop   context.CancelFunc
}

// OpenStream connects to an http:// address. The connection is made again
// whenever it breaks, until Close.
func OpenStream(ctx context.Context, address string) (*Stream, error) {
	if !strings.HasPrefix(address, "http://") && !strings.HasPrefix(address, "https://") {
		return nil, fmt.Errorf("%q is not the address of a camera stream; it starts with http://", address)
	}
	t := http.DefaultTransport.(*http.Transport).Clone()
	t.ResponseHeaderTimeout = connectTime
	ctx, stop := context.WithCancel(ctx)
	s := &Stream{newest: waiting("the camera at " + address), url: address, client: &http.Client{Transport: t}, stop: stop}
	go s.run(ctx)
	return s, nil
}

// Close ends the connection.
func (s *Stream) Close() { s.stop() }

// run connects again and again until ctx ends.
func (s *Stream) run(ctx context.Context) {
	for ctx.Err() == nil {
		err := s.receive(ctx)
		if ctx.Err() != nil {
			return
		}
		s.put(nil, fmt.Errorf("the camera stream at %s broke: %w; check its power, its cable and the address (trying again)", s.url, err))
		select {
		case <-ctx.Done():
		case <-time.After(retry):
		}
	}
}

// receive reads one connection to its end.
func (s *Stream) receive(ctx context.Context) error {
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, s.url, nil)
	if err != nil {
		return err
	}
	resp, err := s.client.Do(req)
	var full *url.Error // names the address, which is named already
	if errors.As(err, &full) {
		return full.Err
	}
	if err != nil {
		return err
	}
	defer func() { _ = resp.Body.Close() }()
	if resp.StatusCode != http.StatusOK {
		return fmt.Errorf("it answers %s", resp.Status)
	}
	kind, params, err := mime.ParseMediaType(resp.Header.Get("Content-Type"))
	if err != nil || !strings.HasPrefix(kind, "multipart/") || params["boundary"] == "" {
		return fmt.Errorf("it sends %q, not a motion JPEG stream", resp.Header.Get("Content-Type"))
	}
	// some cameras repeat the dashes of the separator in the header
	return s.parts(multipart.NewReader(resp.Body, strings.TrimPrefix(params["boundary"], "--")))
}

func (s *Stream) parts(r *multipart.Reader) error {
	for {
		part, err := r.NextRawPart()
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return errors.New("it ended")
		}
		if err != nil {
			return err
		}
		data, err := readPart(part)
		if err != nil {
			return err
		}
		s.put(data, nil)
	}
}

// readPart reads one picture. Where its length is told it does not wait for
// the separator behind it, which comes only with the next picture.
func readPart(part *multipart.Part) ([]byte, error) {
	most := int64(largestPicture) + 1
	if n, err := strconv.ParseInt(part.Header.Get("Content-Length"), 10, 64); err == nil && n > 0 && n < most {
		data := make([]byte, n)
		_, err := io.ReadFull(part, data)
		return data, err
	}
	data, err := io.ReadAll(io.LimitReader(part, most))
	if err == nil && int64(len(data)) == most {
		return nil, fmt.Errorf("a picture of more than %d bytes is too large", largestPicture)
	}
	return bytes.TrimRight(data, "\r\n"), err
}
