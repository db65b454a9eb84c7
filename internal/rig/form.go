// SPDX-License-Identifier: Apache-2.0

package rig

import (
	"bytes"
	"fmt"
	"reflect"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// Form is another strict file that speaks of a rig's parts.
type Form struct {
	// As names, for a key of the file, the rig's key whose range or words it
	// takes: "magnet.diameter" as "lift.diameter".
	As map[string]string
	// Ranges and Words are those of keys that no rig has.
	Ranges map[string][2]string
	Words  map[string][]string
}

// ruled gives an entry the range or words that it takes.
func (f Form) ruled(e *entry) {
	e.as, e.names = f.As[e.key], f.Words[e.key]
	if r, ok := f.Ranges[e.key]; ok {
		e.own = &limit{r[0], r[1]}
	}
	for i := range e.items {
		e.items[i].as, e.items[i].own, e.items[i].names = e.as, e.own, e.names
	}
}

// Heads are the lines on which the tables of a file begin, by name, in order.
type Heads map[string][]int

// Read reads the text of a file into a struct with toml tags, as strictly as a
// rig file.
func (f Form) Read(path string, data []byte, into any) (Heads, error) {
	if len(data) > maxFile {
		return nil, fmt.Errorf("%s: %d bytes is too long for such a file", path, len(data))
	}
	data = bytes.TrimPrefix(data, byteOrderMark)
	entries, err := scan(path, data)
	if err != nil {
		return nil, err
	}
	sch := map[string]field{}
	walk(reflect.ValueOf(into).Elem(), "", sch)
	heads := Heads{}
	var faults []fault
	for _, e := range entries {
		if e.kind == unstable.ArrayTable || e.kind == unstable.Table {
			heads[e.key] = append(heads[e.key], e.line)
		}
		f.ruled(&e)
		if text := e.check(sch); text != "" {
			faults = append(faults, fault{e.line, text})
		}
	}
	if len(faults) > 0 {
		return nil, report(path, faults)
	}
	if err := toml.NewDecoder(bytes.NewReader(data)).DisallowUnknownFields().Decode(into); err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return heads, nil
}
