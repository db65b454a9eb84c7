// SPDX-License-Identifier: Apache-2.0

package app

import (
	"bytes"
	"encoding/json"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"

	"boardhand/internal/terminal"
)

func TestVersionOf(t *testing.T) {
	info := &debug.BuildInfo{GoVersion: "go1.2.3", Main: debug.Module{Version: "v0.4.0"}, Settings: []debug.BuildSetting{
		{Key: "vcs.revision", Value: "abc"}, {Key: "vcs.modified", Value: "true"}, {Key: "vcs.time", Value: "2026-01-02T03:04:05Z"}, {Key: "GOOS", Value: "x"}}}
	want := version{Version: "v0.4.0", Commit: "abc", Changed: true, Time: "2026-01-02T03:04:05Z", Go: "go1.2.3"}
	if got := versionOf(info); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got := versionOf(nil); got != (version{Version: "unknown", Go: "unknown"}) {
		t.Errorf("no record: %+v", got)
	}
}

func TestPrintVersion(t *testing.T) {
	for _, c := range []struct {
		v    version
		want string
	}{
		{version{Version: "v0.4.0", Commit: "abc", Time: "T", Go: "go1"}, "boardhand v0.4.0\ncommit abc\nof T\nbuilt with go1\n"},
		{version{Version: "(devel)", Commit: "abc", Changed: true, Go: "go1"}, "boardhand (devel)\ncommit abc, with changes not committed\nbuilt with go1\n"},
		{version{Version: "(devel)", Go: "go1"}, "boardhand (devel)\ncommit not recorded (built outside a checkout, or with -buildvcs=false)\nbuilt with go1\n"},
	} {
		var b bytes.Buffer
		if err := printVersion(&terminal.Out{W: &b}, c.v); err != nil || b.String() != c.want {
			t.Errorf("got %q, %v; want %q", b.String(), err, c.want)
		}
	}
}

func TestVersionCommand(t *testing.T) {
	for _, typed := range []string{"version", "--version"} {
		var o, e bytes.Buffer
		if code := Main([]string{typed, "--json"}, &o, &e); code != fine {
			t.Fatalf("%s: code %d, %s", typed, code, e.String())
		}
		var v version
		if err := json.Unmarshal(o.Bytes(), &v); err != nil || v.Go != runtime.Version() {
			t.Errorf("%s: got %s, %v", typed, o.String(), err)
		}
	}
}

func TestLicencesCommand(t *testing.T) {
	var o, e bytes.Buffer
	if code := Main([]string{"licences"}, &o, &e); code != fine {
		t.Fatalf("code %d, %s", code, e.String())
	}
	for _, want := range []string{"==== boardhand: LICENSE", "Apache License", "==== go: LICENSE", "==== github.com/spf13/cobra v"} {
		if !strings.Contains(o.String(), want) {
			t.Errorf("%q is not printed", want)
		}
	}
}
