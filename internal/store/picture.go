// SPDX-License-Identifier: Apache-2.0

package store

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
)

// PictureError says that a picture could not be kept. The entry that it belongs
// to is on disk without it.
type PictureError struct {
	Game int64
	Err  error
}

func (e *PictureError) Error() string {
	return fmt.Sprintf("a picture of game %d could not be kept, the game goes on without it: %v", e.Game, e.Err)
}

func (e *PictureError) Unwrap() error { return e.Err }

// Pictures is the folder of a game's pictures.
func (s *Store) Pictures(game int64) string {
	return filepath.Join(s.dir, "pictures", fmt.Sprintf("%04d", game))
}

// keepPicture writes a picture. On a full disk those of games that are over
// make room.
func (s *Store) keepPicture(game int64, name string, jpeg []byte) *PictureError {
	s.keepBudget(int64(len(jpeg)))
	err := s.savePicture(game, name, jpeg)
	if errors.Is(err, syscall.ENOSPC) && s.makeRoom() {
		err = s.savePicture(game, name, jpeg)
	}
	if err != nil {
		return &PictureError{game, explain(s.Pictures(game), err)}
	}
	if s.pictures >= 0 {
		s.pictures += int64(len(jpeg))
	}
	return nil
}

func (s *Store) savePicture(game int64, name string, jpeg []byte) error {
	for _, dir := range []string{filepath.Join(s.dir, "pictures"), s.Pictures(game)} {
		if err := makeFolder(dir); err != nil {
			return err
		}
	}
	return writeFile(filepath.Join(s.Pictures(game), name), jpeg)
}

// Pruned is what pruning did.
type Pruned struct {
	Games []int64 // whose pictures were removed
	Freed int64   // bytes
	Kept  int64   // bytes of pictures that are left
}

// Prune removes the pictures of the oldest games that are over until at most
// budget bytes of pictures are left. Those of unfinished games stay.
func (s *Store) Prune(budget int64) (Pruned, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.prune(func(kept int64) bool { return kept <= budget })
}

// prune removes pictures game by game until enough says so of the bytes left.
func (s *Store) prune(enough func(kept int64) bool) (p Pruned, err error) {
	ids, sizes := s.pictured()
	for _, size := range sizes {
		p.Kept += size
	}
	for _, id := range ids {
		if enough(p.Kept) {
			break
		}
		if !s.over(id) {
			continue
		}
		if err = os.RemoveAll(s.Pictures(id)); err != nil {
			err = explain(s.Pictures(id), err)
			break
		}
		p.Games, p.Freed, p.Kept = append(p.Games, id), p.Freed+sizes[id], p.Kept-sizes[id]
	}
	s.pictures = p.Kept
	return p, err
}

// over says whether a game of the store has ended. One that is played on, and
// one that the store does not know, have not.
func (s *Store) over(id int64) bool {
	if s.played != nil && s.played.game.ID == id {
		return false
	}
	var n int
	err := s.db.QueryRow("SELECT COUNT(*) FROM game WHERE id=? AND (result<>? OR reason<>'')", id, Unfinished).Scan(&n)
	return err == nil && n == 1
}

// lastUsed is the highest number of a game that left pictures or a PGN file.
// After an older copy of the store was put back it may be one that the store
// does not know.
func (s *Store) lastUsed() (last int64) {
	for _, dir := range []string{"pictures", "pgn"} {
		names, _ := os.ReadDir(filepath.Join(s.dir, dir))
		for _, n := range names {
			if id, err := strconv.ParseInt(strings.TrimSuffix(n.Name(), ".pgn"), 10, 64); err == nil {
				last = max(last, id)
			}
		}
	}
	return last
}

// pictured lists the games that pictures are kept of, oldest first, with the
// bytes of each.
func (s *Store) pictured() (ids []int64, sizes map[int64]int64) {
	sizes = map[int64]int64{}
	folders, _ := os.ReadDir(filepath.Join(s.dir, "pictures"))
	for _, f := range folders {
		id, err := strconv.ParseInt(f.Name(), 10, 64)
		if err != nil {
			continue
		}
		files, _ := os.ReadDir(filepath.Join(s.dir, "pictures", f.Name()))
		for _, one := range files {
			if info, err := one.Info(); err == nil {
				sizes[id] += info.Size()
			}
		}
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids, sizes
}

// keepBudget makes room for one more picture within KeepPictures.
func (s *Store) keepBudget(size int64) {
	if s.KeepPictures <= 0 || s.pictures >= 0 && s.pictures+size <= max(s.KeepPictures, s.crowded) {
		return
	}
	p, err := s.prune(func(kept int64) bool { return kept+size <= s.KeepPictures })
	if p.Kept+size > s.KeepPictures {
		if s.crowded == 0 {
			s.warn("pictures of unfinished games take more than the room for pictures; they stay")
		}
		s.crowded = p.Kept + recount
	} else {
		s.crowded = 0
	}
	switch {
	case err != nil:
		s.warn("old pictures could not be removed: %v", err)
	case len(p.Games) > 0:
		s.warn("to keep to the room for pictures, those of %s were removed", gameNames(p.Games))
	}
}

// makeRoom removes pictures of games that are over from a full disk. It says
// whether anything was removed.
func (s *Store) makeRoom() bool {
	freed := int64(-1)
	p, _ := s.prune(func(kept int64) bool {
		if freed < 0 {
			freed = kept // all that there is
		}
		return freed-kept >= roomMade
	})
	if len(p.Games) > 0 {
		s.warn("the disk is full: the pictures of %s were removed to make room for the game", gameNames(p.Games))
	}
	return len(p.Games) > 0
}

// gameNames is "game 3" or "games 3 to 7".
func gameNames(ids []int64) string {
	if len(ids) == 1 {
		return fmt.Sprintf("game %d", ids[0])
	}
	return fmt.Sprintf("games %d to %d", ids[0], ids[len(ids)-1])
}
