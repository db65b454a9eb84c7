package paper

import (
	"bytes"
	"os"
	"testing"

	"boardhand/internal/rig"
)

func TestOut(t *testing.T) {
	var b bytes.Buffer
	if err := PDF(&b, rig.Default()); err != nil {
		t.Fatal(err)
	}
	os.WriteFile("/tmp/rep.pdf", b.Bytes(), 0o644)
	b.Reset()
	if err := HTML(&b, rig.Default()); err != nil {
		t.Fatal(err)
	}
	os.WriteFile("/tmp/rep.html", b.Bytes(), 0o644)
}
