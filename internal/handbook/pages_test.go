// SPDX-License-Identifier: Apache-2.0

package handbook_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"boardhand/internal/app"
	"boardhand/internal/golden"
)

const docs = "../../docs"

// TestMain is the program itself where a command of the manual runs it.
func TestMain(m *testing.M) {
	if filepath.Base(os.Args[0]) == "boardhand" {
		os.Exit(app.Main(os.Args[1:], os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// What code writes into a page.
var (
	// A console block: lines that begin with "$ " are typed, the others are the answer.
	console = regexp.MustCompile("(?ms)^```console\n(.*?)^```$")
	// <!-- made: NAME --> … <!-- end -->: a table that a maker of made_test.go writes.
	made = regexp.MustCompile(`(?s)<!-- made: (\S+) -->\n(.*?)<!-- end -->`)
	// <!--= FACT-->12 mm<!--/-->: a number that facts_test.go finds out.
	fact    = regexp.MustCompile(`<!--= ([^>]*?)-->(.*?)<!--/-->`)
	atStart = regexp.MustCompile(`(?m)^\s*<!--= `)
	picture = regexp.MustCompile(`!\[[^\]]*\]\(([^)/]*\.svg)\)`)
)

// The manual says what the program does: each page is written anew, its commands run in
// an empty folder in their order (not with -short), and must come out as it stands.
func TestPagesAreTrue(t *testing.T) {
	for _, path := range pages(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text := read(t, path)
			if atStart.MatchString(text) {
				t.Error("a number's mark begins a line; Markdown takes such a line for HTML")
			}
			desk := newDesk(t)
			now := console.ReplaceAllStringFunc(text, func(block string) string {
				return "```console\n" + desk.answer(t, console.FindStringSubmatch(block)[1]) + "```"
			})
			now = made.ReplaceAllStringFunc(now, func(block string) string {
				name := made.FindStringSubmatch(block)[1]
				if makers[name] == nil {
					t.Fatalf("nothing makes %q", name)
				}
				return "<!-- made: " + name + " -->\n" + makers[name](t) + "<!-- end -->"
			})
			now = fact.ReplaceAllStringFunc(now, func(mark string) string {
				name := fact.FindStringSubmatch(mark)[1]
				return "<!--= " + name + "-->" + found(t, name) + "<!--/-->"
			})
			golden.File(t, path, now)
			desk.comparePictures(t, text)
		})
	}
}

func pages(t *testing.T) []string {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(docs, "*.md"))
	if err != nil || len(paths) < 5 {
		t.Fatalf("%d pages found (%v): the test looks in the wrong place", len(paths), err)
	}
	return paths
}

func read(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// desk is an empty folder with the program in its path.
type desk struct {
	dir string
	env []string
}

func newDesk(t *testing.T) desk {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	bin := t.TempDir()
	if err := os.Symlink(self, filepath.Join(bin, "boardhand")); err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	return desk{dir, append(os.Environ(), "PATH="+bin+":"+os.Getenv("PATH"), "HOME="+dir, "TZ=UTC", "LC_ALL=C.UTF-8", "NO_COLOR=1")}
}

// clocked is what the machine's speed decides.
var clocked = regexp.MustCompile(`in [\d.]+ s\b|\d+ thousand a second`)

// answer types the lines of a block that begin with "$ " and gives the block with what was said.
// What differs by the machine's speed alone stays as it stands.
func (d desk) answer(t *testing.T, block string) string {
	t.Helper()
	if testing.Short() {
		return block
	}
	var out strings.Builder
	for line := range strings.Lines(block) {
		typed, isTyped := strings.CutPrefix(line, "$ ")
		if !isTyped {
			continue
		}
		c := exec.Command("sh", "-c", typed)
		c.Dir, c.Env = d.dir, d.env
		said, _ := c.CombinedOutput() // "no" is an answer too, and stands in what was said
		out.WriteString(line)
		out.Write(said)
	}
	now := out.String()
	if clocked.ReplaceAllString(now, "") == clocked.ReplaceAllString(block, "") {
		return block
	}
	return now
}

// comparePictures holds the pictures of a page against those that its commands drew.
func (d desk) comparePictures(t *testing.T, text string) {
	t.Helper()
	for _, m := range picture.FindAllStringSubmatch(text, -1) {
		kept := filepath.Join(docs, m[1])
		if drawn, err := os.ReadFile(filepath.Join(d.dir, m[1])); err == nil {
			golden.File(t, kept, string(drawn))
		} else if _, err := os.Stat(kept); err != nil {
			t.Errorf("%s is not there, and no command of the page draws it", m[1])
		}
	}
}

// Links lead somewhere: to pages, to sections of pages, to files of the tree.
func TestLinksLeadSomewhere(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)#\s]*)(#[^)\s]*)?\)`)
	for _, path := range pages(t) {
		for _, m := range link.FindAllStringSubmatch(read(t, path), -1) {
			to := filepath.Join(docs, m[1])
			if m[1] == "" {
				to = path
			}
			if strings.Contains(m[1], "://") {
				t.Errorf("%s leads out to %s: the manual is read without the internet", path, m[1])
			} else if _, err := os.Stat(to); err != nil {
				t.Errorf("%s: %v", path, err)
			} else if m[2] != "" && filepath.Dir(to) == filepath.Clean(docs) && !strings.Contains(shown(t, filepath.Base(to)), `id="`+m[2][1:]+`"`) {
				t.Errorf("%s: %s has no section %s", path, to, m[2])
			}
		}
	}
}
