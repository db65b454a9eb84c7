// SPDX-License-Identifier: Apache-2.0

package chess

// Tag is a tag pair of PGN.
type Tag struct{ Name, Value string }

// Tag is the value of a tag, or "".
func (g *Game) Tag(name string) string {
	for _, t := range g.Tags {
		if t.Name == name {
			return t.Value
		}
	}
	return ""
}

// SetTag sets a tag.
func (g *Game) SetTag(name, value string) {
	for i := range g.Tags {
		if g.Tags[i].Name == name {
			g.Tags[i].Value = value
			return
		}
	}
	g.Tags = append(g.Tags, Tag{name, value})
}
