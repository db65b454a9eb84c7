// What the reader believes, drawn over the picture.
import { draw, isWhite } from './words.js';
import { files } from './sheet.js';

export function makeOverlay(frame, state) {
  const svg = frame.querySelector('svg');
  const overlay = { size: null };
  overlay.sized = (w, h) => { overlay.size = [w, h]; show(); };
  overlay.changed = show;
  function show() {
    const v = state.view || {};
    const size = v.width_px ? [v.width_px, v.height_px] : overlay.size;
    if (!size) return;
    svg.setAttribute('viewBox', `-0.5 -0.5 ${size[0]} ${size[1]}`);
    svg.replaceChildren(...lattice(v.corners_px), ...outlines(state, v.corners_px), ...differ(v.corners_px, state.reading));
  }
  return overlay;
}

const join = (points) => points.map((p) => p.join(',')).join(' ');

// lattice is where the reader believes the squares' edges to be.
function lattice(c) {
  if (!c || c.length !== 81) return [];
  const out = [];
  for (let i = 0; i < 9; i++) {
    out.push(draw('polyline', { points: join(c.slice(9 * i, 9 * i + 9)), class: 'lattice' }));
    out.push(draw('polyline', { points: join(c.filter((_, k) => k % 9 === i)), class: 'lattice' }));
  }
  return out;
}

// outlines are what the pieces should cover in the picture: what they cover of the
// board plane, seen from the camera, is the same thing.
function outlines(state, c) {
  const sq = (state.machine || {}).square_mm;
  if (!c || c.length !== 81 || !sq) return [];
  const of = new Map((state.pieces || []).map((p) => [p.id, p.piece]));
  return (state.lean || []).filter((l) => of.has(l.id)).map((l) => draw('polygon', {
    points: join(l.points_mm.map((p) => inPicture(c, p, sq))), class: 'outline ' + (isWhite(of.get(l.id)) ? 'white' : 'black'),
  }));
}

// inPicture is the pixel of a place on the board plane, mm, between the corners of
// its square; beside the board, of the square nearest to it.
function inPicture(c, [x, y], sq) {
  const u = x / sq + 4, v = y / sq + 4;
  const f = Math.min(7, Math.max(0, Math.floor(u))), r = Math.min(7, Math.max(0, Math.floor(v))), k = 9 * r + f;
  const a = u - f, b = v - r;
  return [0, 1].map((i) => (1 - b) * ((1 - a) * c[k][i] + a * c[k + 1][i]) + b * ((1 - a) * c[k + 9][i] + a * c[k + 10][i]));
}

// differ frames the squares that differ from the position, in the signal colour where a
// person is to do something.
function differ(c, r) {
  if (!c || c.length !== 81 || !r || !r.squares) return [];
  const kind = r.state === 'illegal' || r.state === 'unsure' ? 'differs' : 'differs fine';
  return r.squares.flatMap((s) => {
    const k = 9 * (s[1] - 1) + files.indexOf(s[0]);
    const q = [c[k], c[k + 1], c[k + 10], c[k + 9]];
    const mid = [0, 1].map((i) => q.reduce((a, p) => a + p[i], 0) / 4);
    return [draw('polygon', { points: join(q), class: kind }), draw('text', { x: mid[0], y: mid[1], class: kind, 'font-size': Math.hypot(q[1][0] - q[0][0], q[1][1] - q[0][1]) * 0.3 }, s)];
  });
}
