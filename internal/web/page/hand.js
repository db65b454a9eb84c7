// The visitor's hand: pieces are moved on the plan by pointer or by keyboard.
import { draw, pieceName } from './words.js';
import { files, corners } from './sheet.js';
import { place, put, diameter } from './plan.js';

// makeHand lets the visitor move pieces. act({from,to,piece}) does it and may
// refuse; say(text) is for those who listen, refuse(text) for all.
export function makeHand(plan, act, say, refuse) {
  const hand = { plan, act, say, refuse, held: null, at: 'e2', free: () => true };
  plan.onRebuild = () => buildCells(hand);
  // On the HTML around it: a listener for focus makes an SVG element a tab stop.
  plan.svg.parentElement.addEventListener('focusin', (e) => { if (e.target.dataset.square) { hand.at = e.target.dataset.square; cursor(hand); } });
  plan.svg.parentElement.addEventListener('focusout', () => { hand.focused = false; cursor(hand); });
  hand.changed = () => { label(hand); if (hand.held && !find(hand, hand.held)) drop(hand); };
  buildCells(hand);
  return hand;
}

const pieceOn = (hand, square) => (hand.plan.state.pieces || []).find((m) => m.square === square);
const find = (hand, piece) => (hand.plan.state.pieces || []).find((m) => m.id === piece.id);

// buildCells lays a grid of 64 cells (and the tray's) over the pieces: each can
// be focused, clicked and dragged from.
function buildCells(hand) {
  const { plan } = hand, g = plan.g;
  const grid = draw('g', { role: 'grid', class: 'cells', 'aria-label': 'Board, arrow keys move over the squares' });
  hand.cells = new Map();
  for (let i = 7; i >= 0; i--) {
    const row = draw('g', { role: 'row' });
    for (let f = 0; f < 8; f++) {
      const name = files[f] + (i + 1), [x, y] = g.centre(name);
      const cell = draw('rect', {
        role: 'gridcell', tabindex: -1, class: 'cell', 'data-square': name,
        x: x - g.sq / 2, y: y - g.sq / 2, width: g.sq, height: g.sq,
      });
      hand.cells.set(name, cell);
      row.append(cell);
    }
    grid.append(row);
  }
  hand.tray = draw('g', { class: 'cells', role: 'group', 'aria-label': 'Pieces beside the board' });
  plan.svg.append(grid, hand.tray);
  listen(hand, grid);
  listen(hand, hand.tray);
  label(hand);
}

function listen(hand, e) {
  e.addEventListener('keydown', (k) => key(hand, k));
  e.addEventListener('pointerdown', (p) => press(hand, p));
  e.addEventListener('pointermove', (p) => drag(hand, p));
  e.addEventListener('pointerup', (p) => release(hand, p));
  e.addEventListener('pointercancel', () => drop(hand));
}

// label names every cell and lets the tab key reach one of them.
function label(hand) {
  const pieces = new Map((hand.plan.state.pieces || []).filter((m) => m.square).map((m) => [m.square, m.piece]));
  for (const [name, cell] of hand.cells) {
    const piece = pieces.get(name);
    cell.setAttribute('aria-label', `${name}, ${piece ? pieceName(piece) : 'empty'}`);
    cell.setAttribute('tabindex', name === hand.at ? 0 : -1);
    cell.classList.toggle('occupied', Boolean(piece));
    cell.setAttribute('aria-selected', Boolean(hand.held && hand.held.square === name));
  }
  labelTray(hand);
}

function labelTray(hand) {
  const { plan } = hand;
  const beside = (plan.state.pieces || []).filter((m) => !m.square);
  hand.tray.replaceChildren(...beside.map((m) => {
    const [x, y] = place(plan, m), r = 0.25 * plan.g.sq;
    return draw('rect', {
      role: 'button', tabindex: 0, class: 'cell occupied', 'data-piece': m.id, 'aria-label': pieceName(m.piece) + ' beside the board',
      x: x - r, y: y - r, width: 2 * r, height: 2 * r,
    });
  }));
}

function pieceOf(hand, target) {
  if (target.dataset.square) return pieceOn(hand, target.dataset.square);
  return (hand.plan.state.pieces || []).find((m) => m.id === target.dataset.piece);
}

const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

function key(hand, e) {
  const turn = (hand.plan.state.visitor || {}).side === 'black' ? -1 : 1;
  if (arrows[e.key] && e.target.dataset.square) {
    const [df, dr] = arrows[e.key];
    step(hand, turn * df, turn * dr);
  } else if (arrows[e.key]) {
    hand.cells.get(hand.at).focus();
  } else if (e.key === 'Enter' || e.key === ' ') {
    if (hand.held) lay(hand, e.target.dataset.square || 'off');
    else fetchPiece(hand, e.target);
  } else if (e.key === 'Escape' && hand.held) {
    hand.say(`${pieceName(hand.held.piece)} put back`);
    drop(hand);
  } else if (e.key === 'Delete' || e.key === 'Backspace') {
    if (!hand.held) lift(hand, pieceOf(hand, e.target));
    if (hand.held) lay(hand, 'off');
  } else return;
  e.preventDefault();
}

// fetchPiece lifts a piece by keyboard; one from beside the board goes over the board.
function fetchPiece(hand, target) {
  lift(hand, pieceOf(hand, target));
  if (!hand.held || hand.held.square) return;
  hand.cells.get(hand.at).focus();
  put(hand.plan.pieces.get(hand.held.id), lifted(hand, hand.plan.g.centre(hand.at)));
}

function step(hand, df, dr) {
  const f = files.indexOf(hand.at[0]) + df, r = Number(hand.at[1]) + dr;
  if (f < 0 || f > 7 || r < 1 || r > 8) return;
  hand.cells.get(hand.at).setAttribute('tabindex', -1);
  hand.at = files[f] + r;
  const cell = hand.cells.get(hand.at);
  cell.setAttribute('tabindex', 0);
  cell.focus();
  if (hand.held) put(hand.plan.pieces.get(hand.held.id), lifted(hand, hand.plan.g.centre(hand.at)));
}

// lifted is a little up and aside: the piece is in the hand, not on the board.
const lifted = (hand, [x, y]) => [x + 0.1 * hand.plan.g.sq, y - 0.16 * hand.plan.g.sq];

function lift(hand, piece) {
  if (!piece) return hand.say('No piece here');
  const why = hand.free();
  if (why !== true) return hand.refuse(why);
  hand.held = piece;
  const e = hand.plan.pieces.get(piece.id);
  e.classList.add('held');
  hand.plan.layers.pieces.append(e);
  put(e, lifted(hand, place(hand.plan, piece)));
  hand.say(`${pieceName(piece.piece)} lifted`);
  cursor(hand);
  label(hand);
}

// drop lets go of the piece where it came from.
function drop(hand) {
  const piece = hand.held;
  hand.held = null;
  hand.pointer = null;
  const e = piece && hand.plan.pieces.get(piece.id);
  if (e) {
    e.classList.remove('held', 'dragged');
    const now = find(hand, piece);
    if (now) put(e, place(hand.plan, now));
  }
  cursor(hand);
  label(hand);
}

// lay puts the held piece down: on a square, or beside the board.
async function lay(hand, to) {
  const piece = hand.held, from = piece.square || 'off';
  if (from === to) { hand.say(`${pieceName(piece.piece)} put back`); return drop(hand); }
  const e = hand.plan.pieces.get(piece.id);
  hand.held = null;
  hand.pointer = null;
  e.classList.remove('held', 'dragged');
  if (to !== 'off') put(e, hand.plan.g.centre(to));
  cursor(hand);
  hand.say(to === 'off' ? `${pieceName(piece.piece)} taken off the board` : `${pieceName(piece.piece)} to ${to}`);
  try {
    await hand.act({ from, to, piece: from === 'off' ? piece.piece : undefined });
  } catch {
    const now = find(hand, piece);
    if (now && hand.plan.pieces.get(piece.id)) put(hand.plan.pieces.get(piece.id), place(hand.plan, now));
  }
}

// board turns a pointer's place into millimetres of the sheet.
function board(hand, p) {
  const m = hand.plan.svg.getScreenCTM().inverse();
  const q = new DOMPoint(p.clientX, p.clientY).matrixTransform(m);
  return [q.x, q.y];
}

function press(hand, p) {
  if (p.button) return;
  const piece = pieceOf(hand, p.target);
  hand.focused = false;
  if (hand.held) { hand.pointer = { start: [p.clientX, p.clientY], second: true }; return; }
  if (!piece) return;
  lift(hand, piece);
  if (!hand.held) return;
  hand.pointer = { start: [p.clientX, p.clientY] };
  p.currentTarget.setPointerCapture(p.pointerId);
  p.preventDefault();
}

const slack = 6; // pixels a finger may tremble before it is a drag

function drag(hand, p) {
  const q = hand.pointer;
  if (!q || !hand.held) return;
  if (Math.hypot(p.clientX - q.start[0], p.clientY - q.start[1]) > slack) q.moved = true;
  if (!q.moved) return;
  const e = hand.plan.pieces.get(hand.held.id);
  e.classList.add('dragged');
  const at = board(hand, p);
  put(e, at);
  hand.over = hand.plan.g.squareAt(at);
  cursor(hand);
}

// release ends a drag, or is the second tap; a first tap leaves the piece lifted.
function release(hand, p) {
  const q = hand.pointer;
  hand.pointer = null;
  hand.over = null;
  if (!q || !hand.held || !(q.moved || q.second)) return;
  lay(hand, hand.plan.g.squareAt(board(hand, p)) || 'off');
}

// tapTray is for taps on the paper beside the board while a piece is held.
export function tapBeside(hand, p) {
  if (!hand.held || hand.pointer || p.target.closest('.cells')) return;
  if (!hand.plan.g.squareAt(board(hand, p))) lay(hand, 'off');
}

function cursor(hand) {
  const { g, layers } = hand.plan, out = [];
  const focus = document.activeElement && document.activeElement.dataset && document.activeElement.dataset.square;
  if (hand.held && hand.held.square) out.push(draw('circle', { cx: g.centre(hand.held.square)[0], cy: g.centre(hand.held.square)[1], r: diameter(hand.plan, hand.held) / 2, class: 'phantom' }));
  const square = hand.over || (document.activeElement && document.activeElement.matches(':focus-visible') && focus);
  if (square) out.push(corners(g.centre(square), 0.47 * g.sq, 0.16 * g.sq, 'here'));
  layers.cursor.replaceChildren(...out);
}
