package assess

import (
	"testing"
	"time"

	"boardhand/internal/rig"
)

func TestDefault(t *testing.T) {
	start := time.Now()
	cs := Run(rig.Default())
	t.Log(time.Since(start))
	for _, c := range cs {
		t.Logf("%-20s %s value %.3f limit %.3f %s share %.3f\n   %s\n   %s", c.ID, c.Verdict, c.Value, c.Limit, c.Unit, c.Share, c.Why, c.Change)
	}
}
