# make demo   plays a game on the simulated table and serves its page
# make check  is the one gate: format, vet, staticcheck, code that nothing
#             reaches, errors that nobody looks at, tests with the race
#             detector, builds for the targets, tree clean afterwards

GO ?= go
export CGO_ENABLED ?= 0

.PHONY: build demo check check-long fuzz licences lettering headers kills scenes scenes-rooms scenes-gate score score-accept score-vary score-mutants alone heads likes bench-sight bench benchmarks examples manual dist clean

build:
	$(GO) build -trimpath -o bin/boardhand ./cmd/boardhand

demo: build
	./bin/boardhand play --games out/games --pace 3

check:
	@set -e; before=$$(git status --porcelain 2>/dev/null || true); \
	bad=$$(gofmt -l cmd internal tools); test -z "$$bad" || { echo "gofmt these files: $$bad"; exit 1; }; \
	tools/headers.sh --check; \
	echo "vet"; $(GO) vet ./...; \
	echo "staticcheck"; $(GO) tool staticcheck ./...; \
	echo "findings"; GO="$(GO)" tools/findings.sh; \
	echo "build"; for arch in amd64 arm64; do GOOS=linux GOARCH=$$arch $(GO) build -trimpath -o /dev/null ./cmd/boardhand; done; \
	$(GO) test -timeout 40m ./...; \
	echo "race"; CGO_ENABLED=1 $(GO) test -race -short -timeout 40m $(RACED); \
	CGO_ENABLED=1 $(GO) test -race -run 'Pace|Halt|Visitor' ./internal/twin; \
	after=$$(git status --porcelain 2>/dev/null || true); \
	test "$$before" = "$$after" || { echo "the tests changed the tree:"; echo "$$after"; exit 1; }

# The packages that start goroutines or serve several; the others are
# arithmetic, and would only take ten times as long under the race detector.
RACED = ./internal/app ./internal/camera ./internal/follow ./internal/gamelog ./internal/host \
	./internal/office ./internal/player ./internal/propose ./internal/rehearsal ./internal/search ./internal/session ./internal/store \
	./internal/table/... ./internal/terminal ./internal/uci ./internal/web

# The licence texts that the program embeds, copied anew from the modules that
# are linked; a test says when that is due.
licences:
	$(GO) run ./tools/licences

# The pages' own fonts, drawn anew from tools/lettering/strokes.go.
lettering:
	$(GO) run ./tools/lettering

# The licence header over every Go file that lacks it.
headers:
	tools/headers.sh

# Deeper and slower: perft to depth 6, thousands of routes, many games, random bytes.
check-long:
	BOARDHAND_LONG=1 $(GO) test -timeout 240m ./...
	@set -e; for t in linux/arm darwin/arm64 windows/amd64; do echo "build $$t"; GOOS=$${t%/*} GOARCH=$${t#*/} GOARM=7 $(GO) build -o /dev/null ./cmd/boardhand; done
	$(MAKE) fuzz

# What every parser makes of random bytes, FUZZ each; FUZZED=internal/gantry/gcode for
# those of one package.
FUZZ ?= 60s
FUZZED ?= $(sort $(dir $(shell grep -rl --include='*_test.go' '^func Fuzz' internal tools)))
fuzz:
	@set -e; for p in $(FUZZED:%/=%); do for f in $$(cat $$p/*_test.go | sed -n 's/^func \(Fuzz[A-Za-z]*\)(.*/\1/p'); do \
		echo "$$f in $$p"; $(GO) test -run '^$$' -fuzz "^$$f\$$" -fuzztime $(FUZZ) ./$$p; done; done

# The program killed 300 times at random moments; prints the kills by state.
# KILLS=kills,a-game,plies,seed for each of the three rigs.
kills:
	BOARDHAND_LONG=1 BOARDHAND_KILLS=$(KILLS) $(GO) test ./internal/app -run TestKilledAtRandom -v -timeout 240m

# Ray-traced pictures that the reader's author did not draw (wants povray):
# one half to tune on, the other kept apart.
scenes:
	$(GO) run ./tools/scenes -o out/scenes -set tune -from 1 -to 12
	$(GO) run ./tools/scenes -o out/scenes -set valid -from 1 -to 20

# The rooms in which the light on the board changes; roomv is kept apart.
scenes-rooms:
	$(GO) run ./tools/scenes -o out/scenes -set roomt -from 1 -to 24
	$(GO) run ./tools/scenes -o out/scenes -set roomv -from 1 -to 24

# The short games of the reader's own test, drawn anew (wants povray).
scenes-gate:
	$(GO) run ./tools/scenes -o internal/sight/testdata/gate -set gate -only 6,22,36,40,49,54,58,60 -frames 14 -jpeg 72

# What the reader makes of the ray-traced sessions of docs/scorecard.md; fails
# when a figure is worse. Draws what is not there (wants povray; some minutes
# a session). SCORE="-tune 12 -valid 20" reads more sessions than the card has.
score:
	$(GO) run ./tools/score $(SCORE) run

# What the reader makes of sessions kept apart when nobody answers and pictures are lost: docs/alone.md.
alone:
	$(GO) run ./tools/scenes -o out/alone -set roomv -from 25 -to 58
	$(GO) run ./tools/scenes -o out/alone -set limv -from 13 -to 17
	$(GO) run ./tools/scenes -o out/alone -set promov -from 13 -to 18
	BOARDHAND_SCENES='out/alone/*' BOARDHAND_LOSE=true BOARDHAND_PAGE=docs/alone.md $(GO) test -count=1 -timeout 240m -run '^TestAlone$$' ./internal/sight

# Writes the gate's card anew, and that of the last `make score`.
score-accept:
	BOARDHAND_ACCEPT=true $(GO) test -count=1 -run '^TestScorecard$$' ./internal/sight
	$(GO) run ./tools/score accept

# Every number of the reader halved and doubled: docs/sensitivity.md. It can be
# stopped and goes on; SCORE="-match judge.go -games gate06,gate22" does a part.
score-vary:
	nice -n 10 $(GO) run ./tools/score $(SCORE) vary

# The ten most sensitive numbers doubled: the gate's card must turn red.
score-mutants:
	nice -n 10 $(GO) run ./tools/score $(SCORE) mutants

# What the reader knows of the kinds of pieces, learnt anew (wants povray,
# python3-torch, python3-numpy, and some hours of one core). 484 to 490 are kept apart.
heads:
	$(GO) run ./tools/scenes -o out/heads -set heads -from 1 -to 483
	$(GO) run ./tools/scenes -o out/heads -set heads -from 491 -to 566
	$(GO) run ./tools/heads -o out/heads.bin $$(ls -d out/heads/heads* | grep -v '/heads4\(8[4-9]\|90\)$$')
	tools/heads/learn.py out/heads.bin internal/sight/heads/weights.bin
	mv internal/sight/heads/weights.bin.check internal/sight/heads/testdata/answers.bin
	sha256sum internal/sight/heads/weights.bin

# How likely two pieces are of one kind, learnt anew (wants povray, python3-torch,
# python3-numpy). Each run ends when so many batches have been drawn: some sixteen
# minutes of a graphics card together, a night of a core.
LIKES ?= 4200 4200
likes:
	$(GO) run ./tools/scenes -o out/scenes -set roomt -from 1 -to 19
	$(GO) run ./tools/scenes -o out/scenes -set promot -from 1 -to 7
	$(GO) run ./tools/heads -likes -o out/rooms.bin out/scenes/roomt*
	$(GO) run ./tools/heads -likes -o out/promo.bin out/scenes/promot*
	python3 tools/heads/likes.py $(word 1,$(LIKES)) out/likes.bin out/promo.bin
	python3 tools/heads/likes.py $(word 2,$(LIKES)) out/likes.bin +out/rooms.bin =out/net.pt out/promo.bin
	cp out/likes.bin internal/sight/heads/likes.bin
	cp out/looks.bin internal/sight/heads/testdata/looks.bin
	sha256sum internal/sight/heads/likes.bin

# The reader beside the simplest OpenCV pipeline on the same pictures, in the
# same run (wants python3-opencv, and the pictures of `make scenes`).
bench-sight: build
	tools/benchsight/benchsight.py --watch bin/boardhand out/scenes

bench:
	$(GO) test -run '^$$' -bench . ./internal/...

# How fast it is here: whole commands and the Go benchmarks, as docs/benchmarks.md.
# BENCHMARKS="-runs 3 -benchtime 200ms" is quicker.
benchmarks:
	$(GO) run ./tools/benchmarks $(BENCHMARKS)

# Runs every command of the manual and writes its outputs, numbers and pictures anew.
manual:
	BOARDHAND_ACCEPT=1 $(GO) test -count=1 ./internal/handbook

clean:
	rm -rf bin out

# What the example builds come with, made anew from their rig and stock files; a test says when
# that is due.
examples:
	$(GO) run ./tools/examples examples

# All that is given to strangers, in out/dist: static programs for five machines, Debian
# packages with manual pages and completions, what is linked in (SPDX) and checksums.
VERSION ?= $(shell git describe --tags 2>/dev/null | sed "s/^v//" || true)
ifeq ($(VERSION),)
VERSION := 0.0.0+$(shell git rev-parse --short HEAD 2>/dev/null || echo unknown)
endif
DIST = out/dist
NFPM = github.com/goreleaser/nfpm/v2/cmd/nfpm@v2.45.2
dist:
	rm -rf $(DIST); mkdir -p $(DIST)/man $(DIST)/completions
	@set -e; for t in linux/amd64/amd64 linux/arm64/arm64 linux/arm/armhf darwin/arm64/arm64 windows/amd64/amd64; do \
		s=$${t%%/*}; rest=$${t#*/}; a=$${rest%/*}; name=$(DIST)/boardhand_$${s}_$${rest#*/}; \
		test $$s = windows && name=$$name.exe; echo $$name; \
		GOOS=$$s GOARCH=$$a GOARM=7 $(GO) build -trimpath -buildvcs=auto -ldflags "-s -w" -o $$name ./cmd/boardhand; done
	$(GO) run ./cmd/boardhand man $(DIST)/man
	$(GO) run ./cmd/boardhand completion bash > $(DIST)/completions/boardhand.bash
	$(GO) run ./cmd/boardhand completion zsh > $(DIST)/completions/_boardhand
	$(GO) run ./cmd/boardhand completion fish > $(DIST)/completions/boardhand.fish
	$(GO) run ./tools/sbom $(VERSION) spdx > $(DIST)/boardhand_$(VERSION).spdx.json
	$(GO) run ./tools/sbom $(VERSION) copyright > $(DIST)/copyright
	@set -e; for a in amd64 arm64 armhf; do ARCH=$$a VERSION=$(VERSION) $(GO) run $(NFPM) package -f packaging/nfpm.yaml -p deb -t $(DIST); done
	cd $(DIST) && sha256sum boardhand_* > SHA256SUMS
