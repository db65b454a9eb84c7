// SPDX-License-Identifier: Apache-2.0

package main

import (
	"regexp"
	"strings"

	"boardhand/internal/licences"
)

// document is an SPDX 2.3 document, as far as we fill it in (ISO/IEC 5962:2021, clauses 6, 7, 10, 11).
type document struct {
	Version       string         `json:"spdxVersion"`
	DataLicense   string         `json:"dataLicense"`
	ID            string         `json:"SPDXID"`
	Name          string         `json:"name"`
	Namespace     string         `json:"documentNamespace"`
	Creation      creation       `json:"creationInfo"`
	Packages      []pkg          `json:"packages"`
	Relationships []relationship `json:"relationships"`
	Extracted     []extracted    `json:"hasExtractedLicensingInfos,omitempty"`
}

type creation struct {
	Created  string   `json:"created"`
	Creators []string `json:"creators"`
}

type pkg struct {
	ID        string `json:"SPDXID"`
	Name      string `json:"name"`
	Version   string `json:"versionInfo"`
	Location  string `json:"downloadLocation"`
	Analyzed  bool   `json:"filesAnalyzed"`
	Concluded string `json:"licenseConcluded"`
	Declared  string `json:"licenseDeclared"`
	Copyright string `json:"copyrightText"`
	Refs      []ref  `json:"externalRefs,omitempty"`
}

// ref is where a package is found: its purl.
type ref struct {
	Category string `json:"referenceCategory"`
	Type     string `json:"referenceType"`
	Locator  string `json:"referenceLocator"`
}

type relationship struct {
	From string `json:"spdxElementId"`
	Type string `json:"relationshipType"`
	To   string `json:"relatedSpdxElement"`
}

// extracted is the text of a licence that SPDX's list does not have.
type extracted struct {
	ID   string `json:"licenseId"`
	Text string `json:"extractedText"`
}

// idLetters are those that an SPDX identifier may have.
var idLetters = regexp.MustCompile(`[^A-Za-z0-9.-]+`)

// documentOf describes the program, the first, and what is linked into it.
func documentOf(all []licences.Module, version string) document {
	d := document{Version: "SPDX-2.3", DataLicense: "CC0-1.0", ID: "SPDXRef-DOCUMENT", Name: "boardhand-" + version,
		Namespace: "urn:boardhand:" + version,
		Creation:  creation{Created: "1970-01-01T00:00:00Z", Creators: []string{"Tool: boardhand tools/sbom"}}} // the same build gives the same file
	for k, m := range all {
		id := "SPDXRef-" + strings.Trim(idLetters.ReplaceAllString(m.Path, "-"), "-")
		ids, rest := identified(m)
		if len(rest) > 0 {
			own := extracted{ID: "LicenseRef-" + strings.TrimPrefix(id, "SPDXRef-")}
			for _, t := range rest {
				own.Text += t.Name + "\n" + t.Text + "\n"
			}
			d.Extracted = append(d.Extracted, own)
			ids = append(ids, own.ID)
		}
		terms := strings.Join(ids, " AND ")
		p := pkg{ID: id, Name: m.Path, Version: m.Version, Location: "NOASSERTION", Concluded: terms, Declared: terms, Copyright: "NOASSERTION"}
		switch {
		case k == 0:
			p.Version = version
			d.Relationships = append(d.Relationships, relationship{d.ID, "DESCRIBES", id})
		default:
			if m.Version != "-" {
				p.Refs = []ref{{"PACKAGE-MANAGER", "purl", "pkg:golang/" + m.Path + "@" + m.Version}}
			} else {
				p.Version = "NOASSERTION"
			}
			d.Relationships = append(d.Relationships, relationship{d.Packages[0].ID, "DEPENDS_ON", id})
		}
		d.Packages = append(d.Packages, p)
	}
	return d
}
