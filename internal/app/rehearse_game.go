package app

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"boardhand/internal/chess"
	"boardhand/internal/notice"
	"boardhand/internal/rig"
	"boardhand/internal/search"
	"boardhand/internal/sight"
	"boardhand/internal/table"
	"boardhand/internal/twin"
)

// gameSpec is one game of a rehearsal.
type gameSpec struct {
	rig    *rig.Rig
	n      int
	seed   int64
	faults []twin.Fault
	plies  int
	keep   string
	nodes  uint64
}

// referee is the log, the onlooker and the umpire of one rehearsed game. It
// alone compares what the machine believes with the twin's truth.
type referee struct {
	world   *twin.World
	keep    string // folder for the pictures, "" for none
	game    *chess.Game
	tally   tally
	answers strings.Builder
	log     strings.Builder // what happened, for people
	frame   string
	failed  error
	blind   int  // pictures in a row that could not be read
	since   int  // pictures when the last move was finished
	unsure  bool // the newest picture left a doubt
	stop    context.CancelFunc
}

// seedStep keeps the seeds of neighbouring games apart.
const seedStep = 1_000_003

// stuckAfter is how many pictures one move may take; a game that needs more is stuck.
const stuckAfter = 60

// blindAfter bounds how many pictures in a row may fail.
const blindAfter = 60

func rehearseGame(ctx context.Context, s gameSpec) (tally, error) {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	seed := s.seed*seedStep + int64(s.n)
	b, err := setUp(s.rig, chess.Start(), twin.Options{Seed: seed, Faults: s.faults})
	if err != nil {
		return tally{}, err
	}
	game := chess.NewGame(chess.Start())
	ref := &referee{world: b.world, game: game, stop: stop}
	if ref.keep, err = keepFolder(s.keep, s.n, s.rig); err != nil {
		return tally{}, err
	}
	set := settings(s.rig)
	set.MaxPlies = s.plies
	set.Patience = time.Millisecond // the twin's time does not pass while it waits
	p, err := openThinker(ctx, "", searchMB)
	if err != nil {
		return tally{}, err
	}
	think := player{p, search.Limits{Nodes: s.nodes}}
	t := table.New(b.parts(b.world.Guest(), think, ref), set, game, 0, ref.see)
	err = t.Run(ctx)
	if errors.Is(err, context.Canceled) && (ref.failed != nil || ref.tally.Stuck > 0) {
		err = ref.failed
	}
	if err != nil {
		return tally{}, err
	}
	return ref.close()
}

// searchMB is the size of the built-in player's table of positions.
const searchMB = 16

func keepFolder(dir string, n int, r *rig.Rig) (string, error) {
	if dir == "" {
		return "", nil
	}
	folder := filepath.Join(dir, fmt.Sprintf("game_%03d", n))
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return "", fmt.Errorf("cannot keep pictures: %w", err)
	}
	text := []byte(rig.DefaultText)
	if data, err := os.ReadFile(r.Path); err == nil && r.Path != "" {
		text = data
	}
	return folder, os.WriteFile(filepath.Join(folder, "rig.toml"), text, 0o644)
}

// Append compares a finished move with the truth.
func (r *referee) Append(_ context.Context, rec table.Record) error {
	fmt.Fprintf(&r.log, "%s: %s\n", rec.State, rec.Text)
	if strings.HasPrefix(rec.Text, "it slipped") || strings.HasPrefix(rec.Text, "it stands off centre") ||
		strings.HasPrefix(rec.Text, "the man did not come along") {
		r.tally.Recovered++
	}
	if rec.Move == 0 {
		return nil
	}
	r.tally.Plies++
	r.since = r.tally.Pictures
	if r.unsure { // the person, or the machine that knows what it carried, has settled it
		fmt.Fprintf(&r.answers, "%s %s\n", r.frame, rec.Move)
	}
	wrong := r.differences()
	byGuest := strings.HasPrefix(rec.Text, "guest")
	switch {
	case wrong == "":
	case byGuest:
		r.tally.Misread++
	default:
		r.tally.LostState++
	}
	return nil
}

// differences lists the squares on which the board is not as the game says.
func (r *referee) differences() string {
	pos := r.game.Position()
	truth := r.world.Truth()
	var out []string
	for q, man := range truth.Squares {
		if want := pos.At(chess.Square(q)); man != want {
			out = append(out, fmt.Sprintf("%v holds %v, the game says %v", chess.Square(q), man, want))
		}
	}
	if len(out) > 0 {
		fmt.Fprintf(&r.log, "  WRONG: %s\n", strings.Join(out, "; "))
	}
	return strings.Join(out, "; ")
}

// see keeps pictures and counts what the guest is asked.
func (r *referee) see(e table.Event) {
	if e.Notice != nil {
		fmt.Fprintf(&r.log, "  says: %s\n", e.Notice.Text)
	}
	switch {
	case e.Text != "" && e.State == "": // a picture that could not be read
		if r.blind++; r.blind > blindAfter {
			r.failed = fmt.Errorf("no picture could be read: %s", e.Text)
			r.stop()
		}
	case e.Picture != nil:
		r.blind = 0
		r.picture(*e.Picture)
		fmt.Fprintf(&r.log, "  %s %s %v %s %.4f\n", r.frame, e.Reading.State, e.Reading.Squares, e.Reading.Move, e.Reading.Belief)
		r.unsure = e.Reading.State == sight.Unsure
	case e.Notice != nil && e.Notice.Kind == notice.PleaseTake:
		r.tally.Removals++
	case e.Notice != nil && (e.Notice.Kind == notice.PleaseMend || e.Notice.Kind == notice.PleasePut), e.Question != nil:
		r.tally.Asked++
	}
}

func (r *referee) picture(p sight.Picture) {
	r.tally.Pictures++
	r.frame = fmt.Sprintf("frame_%05d.jpg", r.tally.Pictures)
	if r.keep != "" && r.failed == nil {
		if err := os.WriteFile(filepath.Join(r.keep, r.frame), p.JPEG, 0o644); err != nil {
			r.failed = fmt.Errorf("cannot keep a picture: %w", err)
			r.stop()
		}
	}
	if r.tally.Pictures-r.since > stuckAfter {
		r.tally.Stuck = 1
		r.stop()
	}
}

// close adds what the twin counted and writes what was kept.
func (r *referee) close() (tally, error) {
	c := r.world.Truth().Counters
	t := r.tally
	t.Games = 1
	t.Collisions, t.Slips, t.Drags, t.Stalls, t.Toppled = c.Collisions, c.Slips, c.Drags, c.Stalls, c.Toppled
	t.Results = map[string]int{string(r.game.Outcome().Result): 1}
	if r.keep == "" {
		return t, nil
	}
	if err := os.WriteFile(filepath.Join(r.keep, "log.txt"), []byte(r.log.String()), 0o644); err != nil {
		return t, err
	}
	r.game.SetTag("Event", "Rehearsal on the twin")
	err := os.WriteFile(filepath.Join(r.keep, "game.pgn"), []byte(r.game.PGN()), 0o644)
	if err == nil {
		err = os.WriteFile(filepath.Join(r.keep, "answers.txt"), []byte(r.answers.String()), 0o644)
	}
	return t, err
}
