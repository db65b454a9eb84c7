// The plan: pieces, carriage, lanes and marks on the paper, kept live.
import { draw, isWhite, calm, narrow } from './words.js';
import { makeFrame, paper, lettering, line, dimension, narrowGap, cloud, corners } from './sheet.js';

const layerNames = ['reach', 'lean', 'marks', 'carriage', 'lanes', 'pieces', 'clearances', 'cursor'];

// makePlan keeps the SVG in step with the state. Options: tray, dimensions,
// trueFeet (pieces in the size of their feet), workings (what only a maker asks
// for: lean, reach, centre lines, the carriage at rest).
export function makePlan(svg, state, options) {
  const plan = { svg, state, options, pieces: new Map(), layers: {}, moved: new Map() };
  plan.rebuild = () => rebuild(plan);
  plan.changed = (keys) => changed(plan, keys);
  plan.show = (name, yes) => svg.classList.toggle('no-' + name, !yes);
  plan.scale = () => scale(plan);
  narrow.addEventListener('change', plan.rebuild);
  rebuild(plan);
  const tick = () => { if (animate(plan)) requestAnimationFrame(tick); else plan.running = false; };
  plan.start = () => { if (!plan.running) { plan.running = true; requestAnimationFrame(tick); } };
  return plan;
}

function rebuild(plan) {
  const { svg, state, options } = plan;
  const v = state.visitor || {};
  plan.tray = hasTray(plan);
  const g = plan.g = makeFrame(state.machine, v.side, {
    dimensions: options.dimensions && state.machine && !narrow.matches, tray: plan.tray, trayBelow: plan.tray && narrow.matches,
  });
  svg.setAttribute('viewBox', `${g.box.x} ${g.box.y} ${g.box.w} ${g.box.h}`);
  svg.replaceChildren(paper(g));
  if (plan.tray) svg.append(trayPaper(g));
  svg.append(slotPaper(plan));
  for (const name of layerNames) {
    plan.layers[name] = draw('g', { class: 'layer ' + name, 'aria-hidden': 'true' });
    svg.append(plan.layers[name]);
  }
  plan.pieces.clear();
  if (plan.onRebuild) plan.onRebuild();
  changed(plan, new Set(['pieces', 'lanes', 'carriage', 'motion', 'reading', 'last_move', 'lean', 'machine']), true);
}

function changed(plan, keys, inside) {
  const has = (...names) => names.some((n) => keys.has(n));
  if (!inside && (has('machine', 'visitor') || has('pieces') && hasTray(plan) !== plan.tray)) return rebuild(plan);
  if (has('pieces')) { plan.moved.clear(); drawPieces(plan); }
  if (has('pieces', 'last_move', 'moves', 'reading', 'wanted', 'phantoms', 'running', 'hint')) drawMarks(plan);
  if (has('lean', 'pieces')) drawLean(plan);
  if (has('lanes', 'motion')) drawLanes(plan);
  plan.svg.classList.toggle('working', plan.state.state === 'carrying');
  if (has('machine')) drawReach(plan);
  if (has('carriage', 'motion', 'pieces') && plan.start) plan.start();
  if (inside) animate(plan);
}

// hasTray says whether the strip beside the board is drawn: always, or, where
// the machine has slots of its own, when a piece stands beside those.
function hasTray(plan) {
  const { state, options } = plan, slots = ((state.machine || {}).slots || []).length;
  return Boolean(options.tray) && (!slots || (state.pieces || []).some((p) => !p.square && !p.slot));
}

// scale is board millimetres to millimetres on the screen (CSS: 96 px an inch).
function scale(plan) {
  const shown = plan.svg.getBoundingClientRect().width / plan.g.box.w;
  return shown > 0 ? 25.4 / 96 / (1 / shown) : 0;
}

// place is where a piece is drawn: measured, moved by the carriage, or in the tray.
export function place(plan, piece) {
  if (plan.moved.has(piece.id)) return plan.g.at(plan.moved.get(piece.id));
  if (piece.square || piece.slot) return plan.g.at([piece.x_mm, piece.y_mm]);
  return trayPlace(plan, piece);
}

function trayPlace(plan, piece) {
  const { g, state } = plan;
  const beside = (state.pieces || []).filter((m) => !m.square && !m.slot);
  const i = beside.indexOf(piece), rows = 16;
  const along = -4 * g.sq + (i % rows + 0.5) * (8 * g.sq / rows);
  const across = g.outer + (0.38 + 0.52 * Math.floor(i / rows)) * g.sq;
  return g.below ? [along, across] : [across, along];
}

// slotPaper draws the slots of the tray where they are; an empty one shows its
// name, a piece covers it. On a narrow sheet the letter stands over its column, so
// that the figures can be read.
function slotPaper(plan) {
  const { g, state } = plan, slots = (state.machine && state.machine.slots) || [];
  const out = draw('g', { class: 'paper', 'aria-hidden': 'true' });
  const heads = new Map();
  for (const s of slots) {
    const [x, y] = g.at(s.at_mm), [, letter, figures] = s.name.match(/^(\D*)(.*)$/);
    const short = narrow.matches && letter && figures;
    out.append(draw('circle', { cx: x, cy: y, r: 0.22 * g.sq, class: 'thin' }),
      lettering(x, y, (short ? 0.3 : 0.2) * g.sq, short ? figures : s.name, 'figure faint inside'));
    if (short && !(heads.has(letter) && heads.get(letter)[1] < y)) heads.set(letter, [x, y]);
  }
  for (const [letter, [x, y]] of heads) out.append(lettering(x, y - 0.48 * g.sq, 0.34 * g.sq, letter, 'figure faint inside'));
  return out;
}

function trayPaper(g) {
  const out = draw('g', { class: 'paper tray', 'aria-hidden': 'true' });
  const a = g.outer + 0.1 * g.sq, w = g.tray - 0.2 * g.sq, h = 4 * g.sq;
  out.append(g.below
    ? draw('rect', { x: -h, y: a, width: 2 * h, height: w, class: 'phantom' })
    : draw('rect', { x: a, y: -h, width: w, height: 2 * h, class: 'phantom' }));
  const size = 0.22 * g.sq;
  out.append(g.below
    ? draw('text', { x: 0, y: a + w - 0.12 * g.sq, 'font-size': size, class: 'figure faint' }, 'Beside the board')
    : draw('text', { 'font-size': size, class: 'figure faint', transform: `translate(${a + w - 0.1 * g.sq} 0) rotate(-90)` }, 'Beside the board'));
  return out;
}

// foot is the diameter of the piece's own foot, mm.
function foot(plan, piece) {
  const feet = (plan.state.machine && plan.state.machine.feet) || {};
  const kind = feet[piece.piece.toUpperCase()];
  return piece.base_mm || (kind && kind.base_mm) || 0.47 * plan.g.sq;
}

export function diameter(plan, piece) {
  const own = foot(plan, piece);
  if (piece.slot) return own;
  const d = plan.options.trueFeet ? own : Math.max(own, 0.7 * plan.g.sq);
  return piece.square || plan.options.trueFeet ? d : Math.min(d, 0.47 * plan.g.sq);
}

// ring is a piece in plan view, d across.
function ring(piece, d) {
  const body = draw('g');
  body.append(draw('circle', { r: d / 2, class: 'ring' }), draw('circle', { r: d * 0.42, class: 'turned' }));
  body.append(lettering(0, 0, d * 0.6, piece.toUpperCase(), 'trade'));
  return draw('g', { class: 'piece ' + (isWhite(piece) ? 'white' : 'black') }, body);
}

function drawPieces(plan) {
  const layer = plan.layers.pieces, seen = new Set();
  for (const piece of plan.state.pieces || []) {
    if (!piece.square && !piece.slot && !plan.options.tray) continue;
    const d = diameter(plan, piece), key = piece.piece + d.toFixed(2);
    let e = plan.pieces.get(piece.id);
    if (!e || e.dataset.key !== key) {
      if (e) e.remove();
      e = ring(piece.piece, d);
      e.dataset.key = key;
      plan.pieces.set(piece.id, e);
      layer.append(e);
    }
    seen.add(piece.id);
    if (!e.classList.contains('held')) put(e, place(plan, piece));
  }
  for (const [id, e] of plan.pieces) if (!seen.has(id)) { e.remove(); plan.pieces.delete(id); }
}

export const put = (e, [x, y]) => { e.style.transform = `translate(${x}px, ${y}px)`; };

function drawLean(plan) {
  if (!plan.options.workings) return;
  plan.layers.lean.replaceChildren(...(plan.state.lean || []).map((l) => draw('polygon', {
    points: l.points_mm.map((p) => plan.g.at(p).join(',')).join(' '), class: 'leaning',
  })));
}

// drawMarks shows the move under way or the last one, what differs from the game and, on request,
// how far each piece stands off its square's centre.
function drawMarks(plan) {
  const { g, state, options } = plan, out = [];
  const move = state.last_move || '', running = state.running || [];
  if (running.length) out.push(...running.flatMap((r) => passage(g, r.from, r.to, 'bound')));
  else if (move.length >= 4) out.push(...passage(g, move.slice(0, 2), move.slice(2, 4), 'arrived'));
  for (const p of state.phantoms || []) out.push(...phantom(plan, p));
  out.push(...hint(plan));
  if (options.workings) out.push(...offsets(plan));
  for (const s of doubtful(state)) out.push(cloud(g.centre(s), g.sq));
  plan.layers.marks.replaceChildren(...out);
}

// passage marks where a piece comes from and where it goes.
function passage(g, from, to, kind) {
  const out = [];
  if (from !== 'off') {
    const [x, y] = g.centre(from), k = 0.08 * g.sq;
    out.push(draw('circle', { cx: x, cy: y, r: 0.33 * g.sq, class: 'phantom' }), line(x - k, y, x + k, y, 'thin'), line(x, y - k, x, y + k, 'thin'));
  }
  if (to !== 'off') out.push(corners(g.centre(to), 0.45 * g.sq, 0.14 * g.sq, kind));
  return out;
}

// phantom is a piece where the game has it and it does not stand.
function phantom(plan, p) {
  const { g } = plan, [x, y] = g.centre(p.square), r = diameter(plan, p) / 2;
  return [draw('circle', { cx: x, cy: y, r, class: isWhite(p.piece) ? 'ghost' : 'ghost filled' }), lettering(x, y, r * 1.1, p.piece.toUpperCase(), 'ghostly')];
}

// hint marks the piece to look at by the centre lines of a round part and, if the guest
// asked for it, shows it in phantom line where it would go.
function hint(plan) {
  const { g, state } = plan, [from, to] = state.hint || [];
  if (!from) return [];
  const piece = (state.pieces || []).find((p) => p.square === from), out = centred(g, from);
  if (to) out.push(...centred(g, to), ...(piece ? phantom(plan, { piece: piece.piece, square: to }) : []));
  return out;
}

function centred(g, square) {
  const [x, y] = g.centre(square), a = 0.34 * g.sq, b = 0.6 * g.sq;
  return [draw('circle', { cx: x, cy: y, r: 0.45 * g.sq, class: 'pointed' }),
    ...[[1, 0], [-1, 0], [0, 1], [0, -1]].map(([dx, dy]) => line(x + a * dx, y + a * dy, x + b * dx, y + b * dy, 'pointed'))];
}

// doubtful are the squares where a person has to do or decide something.
function doubtful(state) {
  const r = state.reading || {}, out = new Set();
  if (['partial', 'illegal', 'unsure'].includes(r.state)) for (const s of r.squares || []) out.add(s);
  for (const w of state.wanted || []) for (const s of [w.from, w.to]) if (s !== 'off') out.add(s);
  return out;
}

function offsets(plan) {
  const { g, state } = plan, out = [];
  for (const m of state.pieces || []) {
    if (!m.square) continue;
    const c = g.centre(m.square);
    out.push(line(c[0] - 0.46 * g.sq, c[1], c[0] + 0.46 * g.sq, c[1], 'centreline'), line(c[0], c[1] - 0.46 * g.sq, c[0], c[1] + 0.46 * g.sq, 'centreline'));
  }
  return out;
}

function drawReach(plan) {
  const r = (plan.state.machine || {}).reach_mm;
  if (!r || !plan.options.workings) return plan.layers.reach.replaceChildren();
  const a = plan.g.at(r[0]), b = plan.g.at(r[1]);
  plan.layers.reach.replaceChildren(draw('rect', {
    x: Math.min(a[0], b[0]), y: Math.min(a[1], b[1]), width: Math.abs(a[0] - b[0]), height: Math.abs(a[1] - b[1]), class: 'phantom',
  }));
}

function drawLanes(plan) {
  const { g, state } = plan, lanes = [], dims = [];
  const poly = (path, c) => draw('polyline', { points: path.map((p) => g.at(p).join(',')).join(' '), class: c });
  for (const l of state.lanes || []) {
    lanes.push(poly(l.path_mm, `lane ${l.do || ''}${l.done ? ' done' : ''}`));
    for (const c of l.clearances || []) {
      dims.push(...clearance(g, c));
    }
  }
  const m = state.motion;
  if (m && m.path_mm && !(state.lanes || []).length) lanes.push(poly(m.path_mm, 'lane'));
  plan.layers.lanes.replaceChildren(...lanes);
  if (plan.options.workings) plan.layers.clearances.replaceChildren(...dims);
}

function clearance(g, c) {
  const a = g.at(c.from_mm), b = g.at(c.to_mm), roomy = Math.hypot(a[0] - b[0], a[1] - b[1]) > g.sq;
  return (roomy ? dimension : narrowGap)(a, b, c.free_mm.toFixed(1), g.sq, c.tight ? 'tight' : '');
}

// along is the place a share k of the way along the polyline.
export function along(path, k) {
  const lengths = path.slice(1).map((p, i) => Math.hypot(p[0] - path[i][0], p[1] - path[i][1]));
  let rest = k * lengths.reduce((a, b) => a + b, 0);
  for (let i = 0; i < lengths.length; i++) {
    if (rest <= lengths[i] && lengths[i] > 0) {
      const t = rest / lengths[i];
      return [path[i][0] + t * (path[i + 1][0] - path[i][0]), path[i][1] + t * (path[i + 1][1] - path[i][1])];
    }
    rest -= lengths[i];
  }
  return path[path.length - 1];
}

// travelled is the share of the way after a share t of the time: speeding up
// and slowing down for a sixth of the time each.
export function travelled(t) {
  const a = 1 / 6, v = 1 / (1 - a);
  if (t <= 0) return 0;
  if (t >= 1) return 1;
  if (t < a) return v * t * t / (2 * a);
  if (t > 1 - a) return 1 - v * (1 - t) * (1 - t) / (2 * a);
  return v * (t - a / 2);
}

// animate places the carriage and the carried piece for this instant; it
// returns whether the motion still goes on.
function animate(plan) {
  const { state } = plan, m = state.motion, c = state.carriage;
  const moving = m && m.path_mm && m.path_mm.length;
  if (!moving) { drawCarriage(plan, c && [c.x_mm, c.y_mm], c && c.raised); return false; }
  const t = (performance.now() - m.began) / 1000 / (m.duration_s || 0.001);
  const k = calm.matches ? Number(t >= 1) : travelled(t);
  drawCarriage(plan, along(m.path_mm, k), m.raised || Boolean(m.carrying), t < 1);
  const piece = m.carrying && (state.pieces || []).find((x) => x.id === m.carrying || x.square === m.carrying);
  if (piece && plan.pieces.has(piece.id)) {
    plan.moved.set(piece.id, along(m.piece_path_mm || m.path_mm, k));
    put(plan.pieces.get(piece.id), place(plan, piece));
    plan.pieces.get(piece.id).classList.add('carried');
    plan.layers.pieces.append(plan.pieces.get(piece.id));
  }
  if (t >= 1 && piece && plan.pieces.has(piece.id)) plan.pieces.get(piece.id).classList.remove('carried');
  return t < 1;
}

// drawCarriage is the crosshair over the whole sheet with its two ordinates.
function drawCarriage(plan, at, raised, moving) {
  const layer = plan.layers.carriage, g = plan.g;
  if (!at || !(plan.options.workings || moving)) return layer.replaceChildren();
  if (plan.onCarriage) plan.onCarriage(at, raised);
  const [x, y] = g.at(at), o = g.outer, s = g.sq;
  const out = [
    line(x, -o, x, o, 'gantry'), line(-o, y, o, y, 'gantry'),
    draw('circle', { cx: x, cy: y, r: 0.17 * s, class: raised ? 'magnet raised' : 'magnet' }),
    draw('path', { d: `M${x - 0.3 * s} ${y}H${x + 0.3 * s}M${x} ${y - 0.3 * s}V${y + 0.3 * s}`, class: 'hair' }),
  ];
  if (raised) out.push(draw('circle', { cx: x, cy: y, r: 0.42 * s, class: 'pull' }));
  layer.replaceChildren(...out);
}
