// The paper under the plan: field, hatching, zone marks, dimension lines.
// Everything is in millimetres of the board; y points down as SVG wants it.
import { draw } from './words.js';

export const files = 'abcdefgh';

// makeFrame fixes how board millimetres lie on the sheet.
export function makeFrame(machine, side, options) {
  const sq = (machine && machine.square_mm) || 32;
  const border = (machine && machine.border_mm) || sq / 2;
  const turn = side === 'black' ? -1 : 1;
  const edge = 4 * sq + border;
  const inside = border >= 0.38 * sq; // the zone marks fit on the board's own border
  const slots = ((machine && machine.slots) || []).length > 0; // the zone marks keep clear of them
  const band = inside ? 0 : 0.42 * sq;
  const dim = options.dimensions ? 0.62 * sq : 0.1 * sq;
  const tray = options.tray ? 1.5 * sq : 0;
  const outer = edge + band;
  const below = options.trayBelow;
  const box = {
    x: -outer - dim, y: -outer - 0.1 * sq,
    w: 2 * outer + dim + (below || !tray ? 0.1 * sq : tray),
    h: 2 * outer + dim + 0.1 * sq + (below ? tray : 0),
  };
  return {
    sq, border, edge, outer, zone: inside ? [4 * sq, slots ? Math.min(edge, 4.6 * sq) : edge] : [edge, outer], dim, box, below, tray,
    at: ([x, y]) => [turn * x, -turn * y],
    back: ([x, y]) => [turn * x, -turn * y],
    centre: (name) => [turn * (files.indexOf(name[0]) - 3.5) * sq, -turn * (name[1] - 4.5) * sq],
    squareAt([x, y]) {
      const f = Math.floor(turn * x / sq + 4), r = Math.floor(-turn * y / sq + 4);
      return f >= 0 && f < 8 && r >= 0 && r < 8 ? files[f] + (r + 1) : '';
    },
  };
}

// paper draws what never moves.
export function paper(g) {
  const { sq, edge, outer } = g;
  const out = draw('g', { class: 'paper', 'aria-hidden': 'true' });
  out.append(hatch(sq), rect(outer, 'frame'), rect(edge, 'edge'));
  for (let f = 0; f < 8; f++) {
    for (let r = 0; r < 8; r++) {
      if ((f + r) % 2) continue;
      const [x, y] = g.centre(files[f] + (r + 1));
      out.append(draw('rect', { x: x - sq / 2, y: y - sq / 2, width: sq, height: sq, class: 'dark' }));
    }
  }
  for (let i = -3; i <= 3; i++) {
    out.append(line(i * sq, -4 * sq, i * sq, 4 * sq, 'thin'), line(-4 * sq, i * sq, 4 * sq, i * sq, 'thin'));
  }
  out.append(rect(4 * sq, 'field'), ...zones(g));
  if (g.dim > 0.2 * sq) out.append(...dimensions(g));
  return out;
}

function hatch(sq) {
  const step = sq / 9;
  const p = draw('pattern', { id: 'hatch', width: step, height: step, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(-45)' });
  p.append(draw('line', { x1: 0, y1: step / 2, x2: step, y2: step / 2, class: 'hatchline', 'stroke-width': sq * 0.012 }));
  return draw('defs', {}, p);
}

export const line = (x1, y1, x2, y2, c) => draw('line', { x1, y1, x2, y2, class: c });
const rect = (half, c) => draw('rect', { x: -half, y: -half, width: 2 * half, height: 2 * half, class: c });

export function lettering(x, y, size, text, c) {
  return draw('text', { x, y: y + size * 0.34, 'font-size': size, class: c || 'letter' }, text);
}

// zones are the marks along the frame: on this drawing they are the files and ranks.
function zones(g) {
  const out = [];
  const [from, to] = g.zone, mid = (from + to) / 2;
  for (let i = 0; i <= 8; i++) {
    const a = (i - 4) * g.sq;
    for (const s of [-1, 1]) out.push(line(a, s * from, a, s * to, 'thin'), line(s * from, a, s * to, a, 'thin'));
  }
  for (let i = 0; i < 8; i++) {
    const [x] = g.centre(files[i] + '1'), [, y] = g.centre('a' + (i + 1));
    for (const s of [-1, 1]) {
      out.push(lettering(x, s * mid, 0.3 * g.sq, files[i]), lettering(s * mid, y, 0.3 * g.sq, String(i + 1)));
    }
  }
  return out;
}

function dimensions(g) {
  const y = g.outer + 0.36 * g.sq, a = 4 * g.sq;
  const out = dimension([-a, y], [a, y], `8 × ${trim(g.sq)} = ${trim(8 * g.sq)}`, g.sq);
  const x = -g.outer - 0.36 * g.sq;
  out.push(...dimension([x, a], [x, a - g.sq], trim(g.sq), g.sq));
  for (const s of [-a, a]) out.push(line(s, g.outer + 0.06 * g.sq, s, y + 0.1 * g.sq, 'thin'));
  for (const s of [a, a - g.sq]) out.push(line(-g.outer - 0.06 * g.sq, s, x - 0.1 * g.sq, s, 'thin'));
  return out;
}

const trim = (v) => String(Math.round(v * 10) / 10);

// dimension is a dimension line from a to b with its figure, ended by slashes.
export function dimension(a, b, text, sq, c = '') {
  const k = 0.1 * sq, size = 0.25 * sq;
  const mx = (a[0] + b[0]) / 2, my = (a[1] + b[1]) / 2;
  let angle = Math.atan2(b[1] - a[1], b[0] - a[0]) * 180 / Math.PI;
  if (angle > 89 || angle < -90.5) angle += 180;
  if (angle > 180) angle -= 360;
  const out = [line(a[0], a[1], b[0], b[1], 'thin ' + c)];
  for (const p of [a, b]) out.push(line(p[0] - k, p[1] + k, p[0] + k, p[1] - k, 'slash ' + c));
  out.push(draw('text', {
    'font-size': size, class: 'figure ' + c,
    transform: `translate(${mx} ${my}) rotate(${angle}) translate(0 ${-0.09 * sq})`,
  }, text));
  return out;
}

// narrowGap is the dimension of a gap too narrow for its figure: the line
// runs through, arrowheads press from outside, the figure stands at the end.
export function narrowGap(a, b, text, sq, c = '') {
  const n = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1, u = [(b[0] - a[0]) / n, (b[1] - a[1]) / n];
  const on = (p, along, across) => [p[0] + along * u[0] - across * u[1], p[1] + along * u[1] + across * u[0]];
  const head = (p, s) => [p, on(p, s * 0.13 * sq, 0.05 * sq), on(p, s * 0.13 * sq, -0.05 * sq)].map((q) => q.join(',')).join(' ');
  const start = on(a, -0.3 * sq, 0), end = on(b, 0.3 * sq, 0), t = on(b, 0.48 * sq, 0);
  return [
    line(...start, ...end, 'thin ' + c),
    draw('polygon', { points: head(a, -1), class: 'head ' + c }), draw('polygon', { points: head(b, 1), class: 'head ' + c }),
    lettering(t[0], t[1], 0.3 * sq, text, 'figure ' + c),
  ];
}

// cloud is the revision cloud round a square: what differs from the game.
export function cloud([x, y], sq) {
  const n = 5, h = 0.46 * sq, step = 2 * h / n, r = step * 0.58;
  let d = `M${x - h} ${y - h}`;
  for (const [dx, dy] of [[1, 0], [0, 1], [-1, 0], [0, -1]]) {
    for (let i = 0; i < n; i++) d += `a${r} ${r} 0 0 1 ${dx * step} ${dy * step}`;
  }
  return draw('path', { d, class: 'cloud' });
}

// corners are the four brackets round a square.
export function corners([x, y], half, arm, c) {
  let d = '';
  for (const sx of [-1, 1]) {
    for (const sy of [-1, 1]) {
      d += `M${x + sx * half} ${y + sy * (half - arm)}V${y + sy * half}H${x + sx * (half - arm)}`;
    }
  }
  return draw('path', { d, class: c });
}
