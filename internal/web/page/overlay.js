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
    svg.replaceChildren(...lattice(v.corners_px), ...outlines(state.reading), ...differ(v.corners_px, state.reading));
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

const outlines = (r) => ((r && r.outlines) || []).map((o) => draw('polygon', {
  points: join(o.points_px), class: 'outline ' + (isWhite(o.piece) ? 'white' : 'black'),
}));

// differ frames the squares that differ from the position.
function differ(c, r) {
  if (!c || c.length !== 81 || !r || !r.squares) return [];
  const kind = r.state === 'move' ? 'differs fine' : 'differs'; // the signal colour is for what needs a person
  return r.squares.flatMap((s) => {
    const k = 9 * (s[1] - 1) + files.indexOf(s[0]);
    const q = [c[k], c[k + 1], c[k + 10], c[k + 9]];
    const mid = [0, 1].map((i) => q.reduce((a, p) => a + p[i], 0) / 4);
    return [draw('polygon', { points: join(q), class: kind }), draw('text', { x: mid[0], y: mid[1], class: kind, 'font-size': Math.hypot(q[1][0] - q[0][0], q[1][1] - q[0][1]) * 0.3 }, s)];
  });
}
