// SPDX-License-Identifier: Apache-2.0

package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"boardhand/internal/licences"
)

// Every module has terms that are known by name, and the document names each once. The GPL is
// none of the names that are known.
func TestEveryModuleHasKnownTerms(t *testing.T) {
	all, err := licences.All()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := run(&b, []string{"1.2.3", "spdx"}); err != nil {
		t.Fatal(err)
	}
	var d document
	if err := json.Unmarshal(b.Bytes(), &d); err != nil {
		t.Fatal(err)
	}
	if len(d.Packages) != len(all) || len(d.Relationships) != len(all) || d.Packages[0].Version != "1.2.3" {
		t.Errorf("%d packages and %d relationships of %d modules, the first %s", len(d.Packages), len(d.Relationships), len(all), d.Packages[0].Version)
	}
	seen := map[string]bool{}
	for _, p := range d.Packages {
		if seen[p.ID] {
			t.Errorf("%s is there twice", p.ID)
		}
		seen[p.ID] = true
		if p.Concluded == "" || strings.HasPrefix(p.Concluded, "LicenseRef") {
			t.Errorf("%s: terms %s", p.Name, p.Concluded)
		}
	}
}

func TestTermsAreTold(t *testing.T) {
	for id, text := range map[string]string{
		"MIT":          "MIT License\n\nPermission is hereby granted, free of\ncharge, to any person",
		"BSD-2-Clause": "Redistribution and use in source and binary forms, with or without",
		"BSD-3-Clause": "Redistribution and use in source and binary forms … Neither the name of",
		"":             "You may do as you like.",
	} {
		ids, rest := identified(licences.Module{Texts: []licences.Text{{Name: "LICENSE", Text: text}, {Name: "AUTHORS", Text: "A. Person"}}})
		if got := strings.Join(ids, " "); got != id || (len(rest) == 1) != (id == "") {
			t.Errorf("%q is told as %q, want %q", text, got, id)
		}
	}
}
