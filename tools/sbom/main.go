// SPDX-License-Identifier: Apache-2.0

// Command sbom writes what boardhand is made of as an SPDX 2.3 document in JSON, and its
// terms as a Debian copyright file: sbom VERSION spdx|copyright.
package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"boardhand/internal/licences"
)

func main() {
	if err := run(os.Stdout, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "sbom:", err)
		os.Exit(1)
	}
}

func run(w io.Writer, args []string) error {
	if len(args) != 2 {
		return fmt.Errorf("usage: sbom VERSION spdx|copyright")
	}
	all, err := licences.All()
	if err != nil {
		return err
	}
	switch args[1] {
	case "spdx":
		e := json.NewEncoder(w)
		e.SetIndent("", "  ")
		return e.Encode(documentOf(all, args[0]))
	case "copyright":
		return copyright(w, all)
	}
	return fmt.Errorf("write spdx or copyright; got %q", args[1])
}

// phrases tell licences apart: what the text of each has, and what it lacks.
var phrases = []struct{ id, has, lacks string }{
	{"Apache-2.0", "apache license", ""},
	{"MPL-2.0", "mozilla public license", ""},
	{"OFL-1.1", "sil open font license", ""},
	{"blessing", "sqlite is public domain", ""},
	{"MIT", "permission is hereby granted, free of charge", ""},
	{"ISC", "permission to use, copy, modify, and/or distribute this software", ""},
	{"BSD-3-Clause", "neither the name", ""},
	{"BSD-2-Clause", "redistribution and use in source and binary forms", "neither the name"},
}

// identified is the SPDX names of the licences of a module's texts, and the texts whose licence
// is not known by name.
func identified(m licences.Module) (ids []string, rest []licences.Text) {
	for _, t := range m.Texts {
		if n := strings.ToUpper(t.Name); !strings.HasPrefix(n, "LICEN") && !strings.HasPrefix(n, "COPYING") {
			continue // who wrote it, or a notice
		}
		switch id := named(t.Text); {
		case id == "":
			rest = append(rest, t)
		case !slices.Contains(ids, id):
			ids = append(ids, id)
		}
	}
	return ids, rest
}

// named is the SPDX name of a licence's text, "" where it is not known.
func named(text string) string {
	text = strings.ToLower(strings.Join(strings.Fields(text), " "))
	for _, p := range phrases {
		if strings.Contains(text, p.has) && (p.lacks == "" || !strings.Contains(text, p.lacks)) {
			return p.id
		}
	}
	return ""
}

// copyright lists every module with its texts.
func copyright(w io.Writer, all []licences.Module) error {
	for _, m := range all {
		ids, _ := identified(m)
		if _, err := fmt.Fprintf(w, "%s %s: %s\n\n", m.Path, m.Version, strings.Join(ids, " and ")); err != nil {
			return err
		}
		for _, t := range m.Texts {
			if _, err := fmt.Fprintf(w, "--- %s ---\n%s\n", t.Name, t.Text); err != nil {
				return err
			}
		}
	}
	return nil
}
