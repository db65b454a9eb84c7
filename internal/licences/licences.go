// SPDX-License-Identifier: Apache-2.0

// Package licences holds the licence texts of the program and of everything
// that is linked into it, as `make licences` copies them from the modules.
package licences

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"strings"
)

//go:embed texts
var texts embed.FS

// Module is one thing linked: its path ("go" is Go's own library), its version
// ("-" where it is that of the program or of Go) and its texts by file name.
type Module struct {
	Path    string `json:"module"`
	Version string `json:"version"`
	Texts   []Text `json:"texts"`
}

// Text is one licence file.
type Text struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// All lists the program first, then Go, then the modules by path.
func All() ([]Module, error) {
	list, err := texts.ReadFile("texts/modules.txt")
	if err != nil {
		return nil, err
	}
	var out []Module
	for line := range strings.Lines(string(list)) {
		at, version, ok := strings.Cut(strings.TrimSpace(line), " ")
		if !ok {
			return nil, fmt.Errorf("modules.txt: %q is no module and version; run make licences", line)
		}
		m := Module{Path: at, Version: version}
		if m.Texts, err = textsOf(at); err != nil {
			return nil, err
		}
		out = append(out, m)
	}
	return out, nil
}

// textsOf reads the files of one module's folder; a module below it has a
// folder of its own there.
func textsOf(module string) ([]Text, error) {
	dir := path.Join("texts", module)
	files, err := texts.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var out []Text
	for _, f := range files {
		if f.IsDir() {
			continue
		}
		text, err := fs.ReadFile(texts, path.Join(dir, f.Name()))
		if err != nil {
			return nil, err
		}
		out = append(out, Text{f.Name(), string(text)})
	}
	return out, nil
}
