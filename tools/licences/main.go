// SPDX-License-Identifier: Apache-2.0

// Command licences copies the licence texts of all that is linked into
// boardhand to where it embeds them: internal/licences/texts, a folder a
// module, and modules.txt with the versions. Run it in the project's folder.
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

const out = "internal/licences/texts"

// module is something linked: its path, version and folder.
type module struct{ path, version, dir string }

// legal are the names of files that hold terms or must be passed on with them.
var legal = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents|authors)([-._].*)?$`)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}

func run() error {
	all, err := linked()
	if err != nil {
		return err
	}
	if err := os.RemoveAll(out); err != nil {
		return err
	}
	var list strings.Builder
	for _, m := range all {
		if err := m.copyTexts(); err != nil {
			return err
		}
		fmt.Fprintf(&list, "%s %s\n", m.path, m.version)
	}
	return os.WriteFile(filepath.Join(out, "modules.txt"), []byte(list.String()), 0o644)
}

// linked lists the modules in the program for each target, the program itself
// and Go's own library first. With -e, since the texts that the program embeds
// may not be there yet.
func linked() ([]module, error) {
	root, err := command(nil, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	all := []module{{"boardhand", "-", "."}, {"go", "-", strings.TrimSpace(root)}}
	var found []module
	for _, target := range []string{"linux/amd64", "linux/arm64", "linux/arm", "darwin/arm64", "windows/amd64"} {
		system, arch, _ := strings.Cut(target, "/")
		text, err := command([]string{"GOOS=" + system, "GOARCH=" + arch}, "list", "-e", "-deps",
			"-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}} {{.Dir}}{{end}}{{end}}", "./cmd/boardhand")
		if err != nil {
			return nil, err
		}
		for line := range strings.Lines(text) {
			f := strings.SplitN(strings.TrimSpace(line), " ", 3)
			if len(f) == 3 && !slices.Contains(found, module{f[0], f[1], f[2]}) {
				found = append(found, module{f[0], f[1], f[2]})
			}
		}
	}
	slices.SortFunc(found, func(a, b module) int { return strings.Compare(a.path, b.path) })
	return append(all, found...), nil
}

func command(env []string, args ...string) (string, error) {
	c := exec.Command("go", args...)
	c.Env = append(os.Environ(), env...)
	c.Stderr = os.Stderr
	text, err := c.Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
	}
	return string(text), nil
}

// copyTexts copies what the module's folder holds of licences. A module without
// any must not be linked.
func (m module) copyTexts() error {
	files, err := os.ReadDir(m.dir)
	if err != nil {
		return err
	}
	to := filepath.Join(out, filepath.FromSlash(m.path))
	if err := os.MkdirAll(to, 0o755); err != nil {
		return err
	}
	count := 0
	for _, f := range files {
		if f.IsDir() || !legal.MatchString(f.Name()) {
			continue
		}
		text, err := os.ReadFile(filepath.Join(m.dir, f.Name()))
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(to, f.Name()), text, 0o644); err != nil {
			return err
		}
		count++
	}
	if count == 0 {
		return fmt.Errorf("%s has no licence text in %s: find out its terms before linking it", m.path, m.dir)
	}
	return nil
}
