#!/usr/bin/python3
"""Times `boardhand watch` beside the simplest pipeline, on the same pictures.

The simplest pipeline is what is commonly done with OpenCV: decode, remap to
the board seen from straight above (it is given the true corners and the true
lens), absolute difference to the last settled picture, threshold, and the two
most changed squares are the move. It is told which pictures are settled.

Times are processor time of one core (GOMAXPROCS=1, one OpenCV thread), so
that other work on the machine does not count.

    benchsight.py [--watch bin/boardhand] SCENES...

SCENES are session folders as written by tools/scenes, or folders of them.
Needs python3-opencv and python3-numpy (Debian packages).
"""
import argparse
import glob
import json
import os
import statistics
import subprocess
import sys
import tempfile
import time

import cv2
import numpy as np

SQUARE_PX = 80  # of the rectified board: 640 x 640 pixels
THRESHOLD = 30  # grey levels, common practice, no source
SETTLED = ("same", "move")


class Session:
    """One folder of pictures with its truth and its true camera."""

    def __init__(self, folder):
        self.folder = folder
        self.name = os.path.basename(folder.rstrip("/"))
        with open(os.path.join(folder, "truth.jsonl")) as f:
            self.truth = [json.loads(line) for line in f]
        with open(os.path.join(folder, "camera.json")) as f:
            self.camera = json.load(f)
        with open(os.path.join(folder, "start.fen")) as f:
            self.start = f.read().strip()

    def view(self, frame):
        """The pose that is valid for a frame."""
        return [v for v in self.camera["views"] if v["from_frame"] <= frame][-1]

    def maps(self, view):
        """For every pixel of the rectified board, where it is in the picture."""
        a1, h1, _, a8 = board_corners(view, self.camera)
        n = 8 * SQUARE_PX
        u, v = np.meshgrid((np.arange(n) + 0.5) / n, (np.arange(n) + 0.5) / n)
        p = a8[:, None, None] + (h1 - a1)[:, None, None] * u + (a1 - a8)[:, None, None] * v
        x, y = p[0] / p[2], p[1] / p[2]
        r2 = x * x + y * y
        d = 1 + r2 * (self.camera["k1"] + r2 * self.camera["k2"])
        f = self.camera["f_px"]
        mx, my = f * x * d + self.camera["cx_px"], f * y * d + self.camera["cy_px"]
        return cv2.convertMaps(mx.astype(np.float32), my.astype(np.float32), cv2.CV_16SC2)


def board_corners(view, camera):
    """The field's corners in the camera frame: by unprojecting the true
    corners onto the true plane of the board."""
    r, t = np.array(view["camera_from_board"]), np.array(view["translation_mm"])
    out = []
    for u, v in view["corners_px"]:
        x, y = undistort((u - camera["cx_px"]) / camera["f_px"], (v - camera["cy_px"]) / camera["f_px"], camera)
        ray = np.array([x, y, 1.0])
        out.append(ray * (r[:, 2] @ t) / (r[:, 2] @ ray))
    return out


def undistort(xd, yd, camera):
    """Inverts the lens by Newton's steps on the radius."""
    rd = np.hypot(xd, yd)
    r = rd
    for _ in range(20):
        r2 = r * r
        slope = 1 + r2 * (3 * camera["k1"] + 5 * r2 * camera["k2"])
        r -= (r * (1 + r2 * (camera["k1"] + r2 * camera["k2"])) - rd) / slope
    return (xd * r / rd, yd * r / rd) if rd else (xd, yd)


def squares_of(fen):
    """Square name -> letter of the piece."""
    pieces = {}
    for r, row in enumerate(fen.split()[0].split("/")):
        f = 0
        for c in row:
            if c.isdigit():
                f += int(c)
            else:
                pieces["abcdefgh"[f] + str(8 - r)] = c
                f += 1
    return pieces


def two_squares(before, now):
    """The two most changed squares, by pixels over the threshold."""
    diff = cv2.absdiff(before, now)
    _, mask = cv2.threshold(diff, THRESHOLD, 1, cv2.THRESH_BINARY)
    n = mask.reshape(8, SQUARE_PX, 8, SQUARE_PX).sum(axis=(1, 3))
    first, second = np.argsort(n, axis=None)[::-1][:2]
    return ["abcdefgh"[i % 8] + str(8 - i // 8) for i in (first, second)]


def as_move(pair, fen):
    """The two squares as a move: it starts where the mover has a piece."""
    pieces, white = squares_of(fen), fen.split()[1] == "w"
    own = [q for q in pair if q in pieces and pieces[q].isupper() == white]
    if len(own) != 1:
        return ""
    to = pair[0] if pair[1] == own[0] else pair[1]
    queen = pieces[own[0]] in "Pp" and to[1] in "18"
    return own[0] + to + ("q" if queen else "")


class Tally:
    """Counts and times of one reader."""

    def __init__(self):
        self.counts, self.ms = {}, {}

    def add(self, key, n=1):
        self.counts[key] = self.counts.get(key, 0) + n

    def took(self, group, ms):
        self.ms.setdefault(group, []).append(ms)

    def median(self, group):
        return statistics.median(self.ms[group]) if self.ms.get(group) else float("nan")


def run_simplest(session, tally):
    """Reads one session the simplest way, told which pictures are settled."""
    last, fen, maps, view = None, session.start, None, None
    for t in session.truth:
        with open(os.path.join(session.folder, t["frame"]), "rb") as f:
            jpeg = np.frombuffer(f.read(), np.uint8)
        now_view = session.view(t["frame"])
        if now_view is not view:
            view, maps = now_view, session.maps(now_view)
        t0 = time.process_time()
        grey = cv2.imdecode(jpeg, cv2.IMREAD_GRAYSCALE)
        t1 = time.process_time()
        board = cv2.remap(grey, maps[0], maps[1], cv2.INTER_LINEAR)
        pair = two_squares(last, board) if last is not None else None
        t2 = time.process_time()
        if pair:
            tally.took("all", (t2 - t0) * 1000)
            tally.took("decode", (t1 - t0) * 1000)
        if t["state"] not in SETTLED:
            continue
        if t["state"] == "move":
            kind = t["kind"].split("+")[0]
            right = as_move(pair, fen) == t["move"]
            tally.add("moves")
            tally.add("right", right)
            tally.add("of " + kind)
            tally.add("right " + kind, right)
        last, fen = board, t["fen"]


def cpu_ms(pid):
    """Processor time of all threads of a process, milliseconds."""
    total = 0
    for path in glob.glob(f"/proc/{pid}/task/*/schedstat"):
        try:
            with open(path) as f:
                total += int(f.read().split()[0])
        except OSError:
            pass
    return total / 1e6


def peak_mb(pid):
    """The most memory that a process has held, megabytes."""
    try:
        with open(f"/proc/{pid}/status") as f:
            return next(int(line.split()[1]) for line in f if line.startswith("VmHWM")) / 1024
    except (OSError, StopIteration):
        return 0.0


def run_watch(session, binary, tally):
    """Reads one session with `boardhand watch`, answering where it asks."""
    with tempfile.NamedTemporaryFile("w", suffix=".txt") as answers:
        for t in session.truth:
            if t["state"] in SETTLED:
                answers.write(f"{t['frame']} {t['move'] or '0000'}\n")
        answers.flush()
        cmd = [binary, "watch", "--json", "--rig", os.path.join(session.folder, "rig.toml"), "--frames", session.folder,
               "--fen", session.start, "--answers", answers.name]
        p = subprocess.Popen(cmd, stdout=subprocess.PIPE, text=True, env=dict(os.environ, GOMAXPROCS="1"))
        lines, before = {}, None
        for text in p.stdout:
            spent = cpu_ms(p.pid)
            tally.took("memory", peak_mb(p.pid))
            line = json.loads(text)
            if before is None:
                tally.took("first", spent)
            lines[line.get("frame", "")] = (line, None if before is None else spent - before)
            before = spent
        p.wait()
    judge(session, lines, tally)


def judge(session, lines, tally):
    """Compares watch's lines with the truth."""
    for t in session.truth:
        line, ms = lines.get(t["frame"], ({"state": "missing"}, None))
        state, want = line.get("state", "missing"), t["state"]
        if ms is not None:
            tally.took("settled" if want != "hand" else "hand", ms)
            tally.took("all", ms)
        tally.add(want + "s")
        right = state == want and (want != "move" or line.get("move") == t["move"])
        if right:
            tally.add("right" if want == "move" else want + " right")
        elif state == "move" and line.get("fen") == t["fen"]:
            tally.add("late")  # what was played before, read on a later picture
        elif state == "move":
            tally.add("wrong moves")
            print(f"  {session.name} {t['frame']}: {t['kind']} {t['move']} read as {line.get('move')}", file=sys.stderr)
        if want != "hand" and state == "unsure":
            tally.add("unsure")
        if want == "move":
            kind = t["kind"].split("+")[0]
            tally.add("of " + kind)
            tally.add("right " + kind, right)


def report(simple, watch):
    """Prints both and the ratio."""
    def share(t, a, b):
        n = t.counts.get(b, 0)
        return f"{t.counts.get(a, 0)} of {n} ({100 * t.counts.get(a, 0) / n:.1f} %)" if n else "none"
    print(f"simplest pipeline: moves right {share(simple, 'right', 'moves')}; "
          f"{simple.median('all'):.1f} ms a picture, of which decoding {simple.median('decode'):.1f} ms")
    print("  by kind: " + kinds(simple))
    if watch is None:
        return
    print(f"boardhand watch:   moves right {share(watch, 'right', 'moves')}, late {watch.counts.get('late', 0)}, wrong moves {watch.counts.get('wrong moves', 0)}, "
          f"unsure {watch.counts.get('unsure', 0)}; {watch.median('settled'):.1f} ms a settled picture, {watch.median('hand'):.1f} ms a busy one")
    print("  by kind: " + kinds(watch))
    print("  states: " + ", ".join(f"{s} {share(watch, s + ' right', s + 's')}" for s in ("same", "hand", "partial", "illegal")))
    print(f"  start of the program with the first picture, in which it finds the board: {watch.median('first'):.0f} ms; "
          f"most memory {max(watch.ms['memory']):.0f} MB")
    base = simple.median("all")
    print(f"ratio: settled {watch.median('settled') / base:.1f}, busy {watch.median('hand') / base:.1f} times the simplest pipeline")


def kinds(tally):
    names = [k[3:] for k in tally.counts if k.startswith("of ")]
    return ", ".join(f"{k} {tally.counts.get('right ' + k, 0)}/{tally.counts['of ' + k]}" for k in sorted(names))


def sessions_in(paths):
    for p in paths:
        if os.path.exists(os.path.join(p, "truth.jsonl")):
            yield Session(p)
        else:
            for q in sorted(glob.glob(os.path.join(p, "*", "truth.jsonl"))):
                yield Session(os.path.dirname(q))


def main():
    a = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    a.add_argument("scenes", nargs="+")
    a.add_argument("--watch", help="the boardhand program; without it only the simplest pipeline runs")
    o = a.parse_args()
    cv2.setNumThreads(1)
    simple, watch, n = Tally(), Tally() if o.watch else None, 0
    for s in sessions_in(o.scenes):
        n += 1
        run_simplest(s, simple)
        if o.watch:
            run_watch(s, o.watch, watch)
    if n == 0:
        sys.exit("benchsight: no session found: draw some with tools/scenes first")
    report(simple, watch)


if __name__ == "__main__":
    main()
