package app

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
)

// The power goes now and then; each time the game goes on from what the log
// kept, and the same seed gives the same run.
func TestRehearsePowerCuts(t *testing.T) {
	whole(t)
	run := func() tally {
		rigFile := write(t, filepath.Join(t.TempDir(), "rig.toml"), trayText(t, "both"))
		code, out, errs := cli(t, "rehearse", rigFile, "--games", "1", "--plies", "6", "--faults", "power_cut,second_mind", "--seed", "5", "--json")
		var sum tally
		if err := json.Unmarshal([]byte(out), &sum); code != fine || err != nil {
			t.Fatalf("exit code %d, %v: %s%s", code, err, out, errs)
		}
		sum.Seconds = 0
		return sum
	}
	sum := run()
	if sum.PowerCuts < 2 || sum.Misread+sum.LostState+sum.Stuck != 0 {
		t.Errorf("the power was cut and the game went on: %+v", sum)
	}
}

func TestFaultsOfRehearsals(t *testing.T) {
	for text, want := range map[string]string{"": "0 false", "power_cut": "0 true", "slip, power_cut ,fast": "2 true", "slip": "1 false"} {
		faults, cuts, err := parseFaults(text)
		if got := count(len(faults), "fault"); err != nil || !strings.HasPrefix(got, want[:1]) || strings.HasSuffix(want, "true") != cuts {
			t.Errorf("%q: %v, %v, %v", text, faults, cuts, err)
		}
	}
	if _, _, err := parseFaults("power_cut,ghosts"); err == nil || !strings.Contains(err.Error(), "power_cut") {
		t.Errorf("ghosts: %v", err)
	}
}
