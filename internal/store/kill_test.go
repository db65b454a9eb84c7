// SPDX-License-Identifier: Apache-2.0

package store

import (
	"bufio"
	"context"
	"fmt"
	"math/rand"
	"os"
	"os/exec"
	"os/signal"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// TestMain lets a test run this program again as a writer.
func TestMain(m *testing.M) {
	if dir := os.Getenv("STORE_WRITER"); dir != "" {
		limit, _ := strconv.ParseUint(os.Getenv("STORE_LIMIT"), 10, 64)
		os.Exit(writer(dir, limit))
	}
	os.Exit(m.Run())
}

// writer goes on with game 1, or begins it, and says the number of each entry
// whose Append has returned. With a limit no file can grow beyond so many bytes.
func writer(dir string, limit uint64) int {
	ctx := context.Background()
	if limit > 0 {
		signal.Ignore(syscall.SIGXFSZ)
		if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &unix.Rlimit{Cur: limit, Max: limit}); err != nil {
			return 3
		}
	}
	s, err := Open(dir)
	if err != nil {
		fmt.Println("open:", err)
		return 1
	}
	defer func() { _ = s.Close() }()
	if err := s.Claim(); err != nil {
		fmt.Println("claim:", err)
		return 1
	}
	games, err := s.Games(ctx)
	if err == nil && len(games) == 0 {
		_, err = s.Begin(ctx, Game{Started: time.Now(), Machine: "black", Start: start})
	}
	for i := 0; err == nil && (limit == 0 || i < limitedEntries); i++ {
		entries := 0
		if s.played != nil {
			entries = len(s.played.entries)
		}
		if entries == 0 {
			es, err := s.Entries(ctx, 1)
			if err != nil {
				fmt.Println("entries:", err)
				return 1
			}
			entries = len(es)
		}
		if err = s.Append(ctx, 1, testEntry(entries+1), testPicture(entries+1)); err == nil || isLost(err) {
			fmt.Println("kept", entries+1)
			err = nil
		}
	}
	if err != nil {
		fmt.Println("append:", err)
		return 1
	}
	return 0
}

const limitedEntries = 18

func isLost(err error) bool {
	_, lost := err.(*PictureError)
	return lost
}

// testEntry is the entry with a number: every sixth finishes a move.
func testEntry(n int) Entry {
	e := Entry{N: n, At: time.Unix(int64(n), 0), State: "reading", Note: strings.Repeat(fmt.Sprintf("entry %d ", n), 200), Event: "change_seen", Detail: fmt.Sprintf(`{"n":%d}`, n)}
	if n%6 == 0 {
		e.Move = "e2e4"
	}
	return e
}

// testPicture is a picture of up to 54 kB.
func testPicture(n int) []byte {
	return []byte(strings.Repeat(fmt.Sprintf("picture %4d.", n), 1+n%18*256))
}

// checkWritten compares a store that a writer left with what the writer said.
func checkWritten(t *testing.T, dir string, said int) {
	t.Helper()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	if err := s.Claim(); err != nil {
		t.Errorf("the dead writer still holds the claim: %v", err)
	}
	if err := s.Intact(t.Context()); err != nil {
		t.Error(err)
	}
	es, err := s.Entries(t.Context(), 1)
	if err != nil || len(es) < said || len(es) > said+1 {
		t.Fatalf("%d entries were said to be kept, %d are there (%v)", said, len(es), err)
	}
	for i, e := range es {
		want := testEntry(i + 1)
		if want.Picture = e.Picture; e.Damaged != nil || e.sum(1) != want.sum(1) {
			t.Errorf("entry %d came back as %+v", i+1, e)
		}
		if e.Picture == "" {
			continue
		}
		if b, err := os.ReadFile(s.Pictures(1) + "/" + e.Picture); err != nil || string(b) != string(testPicture(i+1)) {
			t.Errorf("the picture of entry %d is not whole: %v", i+1, err)
		}
	}
}

// A child process appends and is killed with SIGKILL at random, a hundred times
// on the same store: no entry is lost, changed or doubled.
func TestKillStorm(t *testing.T) {
	dir := t.TempDir()
	seed := time.Now().UnixNano()
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewSource(seed))
	kills := 100
	if testing.Short() {
		kills = 10
	}
	said := 0
	for range kills {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), "STORE_WRITER="+dir)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		lines, left := bufio.NewScanner(out), 1+rng.Intn(4)
		pause := time.Duration(rng.Intn(3000)) * time.Microsecond
		for lines.Scan() {
			if _, err := fmt.Sscanf(lines.Text(), "kept %d", &said); err != nil {
				t.Fatalf("the writer said %q", lines.Text())
			}
			if left--; left == 0 {
				go func() { time.Sleep(pause); _ = cmd.Process.Kill() }()
			}
		}
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		checkWritten(t, dir, said)
		said = max(said, countEntries(t, dir))
	}
	t.Logf("%d entries after %d kills", said, kills)
}

func countEntries(t *testing.T, dir string) int {
	t.Helper()
	s, _, err := OpenToRead(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = s.Close() }()
	es, err := s.Entries(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	return len(es)
}

// firstLimit is below the 32 kB that SQLite wants at once to begin with.
const firstLimit = uint64(30 << 10)

// The disk ends at every kilobyte in turn, in the middle of whatever is being
// written: what Append has said stays, and with room again the game goes on.
func TestDiskEndsAnywhere(t *testing.T) {
	step := uint64(1 << 10)
	if testing.Short() {
		step = 8 << 10
	}
	refused := 0
	for limit := firstLimit; ; limit += step {
		dir := t.TempDir()
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), "STORE_WRITER="+dir, fmt.Sprintf("STORE_LIMIT=%d", limit))
		out, err := cmd.Output()
		said := strings.Count(string(out), "kept ")
		if err != nil && !strings.Contains(string(out), "the disk reports errors") {
			t.Errorf("with %d bytes the writer said\n%s", limit, out)
		}
		if err != nil {
			refused++
		}
		if said > 0 {
			checkWritten(t, dir, said)
		} else if s, err := Open(dir); err != nil {
			t.Errorf("with %d bytes nothing was kept, and then: %v", limit, err)
		} else {
			_ = s.Close()
		}
		if err == nil {
			break
		}
	}
	if refused < 5 {
		t.Errorf("only %d limits hit: the test tries nothing", refused)
	}
}
