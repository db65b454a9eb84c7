package app

import (
	"bufio"
	"fmt"
	"os"
	"strings"
)

// readAnswers reads lines "frame move"; # starts a remark. A frame may be
// named with or without its ending.
func readAnswers(path string, frames []string) (map[string]string, error) {
	out := map[string]string{}
	if path == "" {
		return out, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the answers: %w", err)
	}
	defer func() { _ = f.Close() }()
	known := map[string]string{}
	for _, n := range frames {
		known[n] = n
		known[strings.TrimSuffix(n, n[strings.LastIndex(n, "."):])] = n
	}
	s := bufio.NewScanner(f)
	for n := 1; s.Scan(); n++ {
		text, _, _ := strings.Cut(s.Text(), "#")
		w := strings.Fields(text)
		if len(w) == 0 {
			continue
		}
		if len(w) != 2 {
			return nil, fmt.Errorf("%s:%d: a line is `frame move`, like `frame_0012.jpg e2e4`; got %q", path, n, s.Text())
		}
		if known[w[0]] == "" {
			return nil, fmt.Errorf("%s:%d: no picture is named %s", path, n, w[0])
		}
		out[known[w[0]]] = w[1]
	}
	return out, s.Err()
}
