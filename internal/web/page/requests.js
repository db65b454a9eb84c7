// What may be asked of the machine, or told it: a button each, and a dialog
// where something is to be chosen.
import { state } from './live.js';
import { $, make, kindName, pieceName } from './words.js';
import { tryTo, quietly } from './parts.js';
import { makeEditor } from './editor.js';

const ask = (request) => quietly(tryTo('request', request));
const told = new Set(['played', 'right', 'position', 'afresh']); // things told rather than asked for

const elsewhere = new Set(['resume', 'strength']); // what the page has a place of its own for

// openers show a dialog first; all other requests go straight away.
const openers = {
  new_game: newGame,
  resign: () => confirm('Resign', 'Do you resign? The game ends, and I win it.', 'Resign', { for: 'resign' }),
  right: () => confirm('It is right as it stands', 'Is what I asked for done, and does the board stand as it should? I then go on without having seen it.', 'It is right', { for: 'right' }),
  played: nameMove,
  position: agree,
};

// showOffers has one button for each thing that may be asked for now; what goes
// into the sentence's place stands there.
export function showOffers() {
  const offers = (state.offers || []).filter((o) => !elsewhere.has(o.request.for));
  const button = (o) => make('button', { type: 'button', onclick: () => (openers[o.request.for] || (() => ask(o.request)))(o) }, o.text + (openers[o.request.for] ? ' …' : ''));
  const first = offers.filter((o) => o.request.for === 'arrange'), rest = offers.filter((o) => o.request.for !== 'arrange');
  $('arrange').hidden = !first.length;
  $('arrange').replaceChildren(make('div', { className: 'choices' }, ...first.map(button)));
  const asked = rest.filter((o) => !told.has(o.request.for)), tell = rest.filter((o) => told.has(o.request.for));
  keepFocus($('offers'), asked.map(button));
  keepFocus($('tell'), tell.map(button));
  $('offers').hidden = !asked.length;
  $('telling').hidden = !tell.length;
}

// keepFocus replaces the buttons in a box; the one that had the focus keeps it.
function keepFocus(box, elements) {
  const had = box.contains(document.activeElement) ? document.activeElement.textContent : '';
  box.replaceChildren(...elements);
  if (had) for (const e of elements) if (e.textContent === had) e.focus();
}

// dialog shows one: a title, its parts, and a button that sends the request.
function dialog(title, parts, go, request) {
  const box = $('dialog');
  const close = make('button', { type: 'button', className: 'plain', onclick: () => box.close() }, 'Cancel');
  const send = go && make('button', { type: 'submit' }, go);
  const form = make('form', { method: 'dialog', onsubmit: () => { const r = request(); if (r) ask(r); } },
    make('h2', { id: 'dialogtitle' }, title), ...parts, make('div', { className: 'choices' }, ...(send ? [send] : []), close),
    // The dialog covers the page's own: a stop is in reach at all times.
    make('button', { type: 'button', className: 'halt', onclick: () => { box.close(); quietly(tryTo('halt')); } }, 'Stop the motors'));
  box.replaceChildren(form);
  box.showModal();
}

function confirm(title, text, go, request) { dialog(title, [make('p', {}, text)], go, () => request); }

function choice(value, text, guest, may) {
  return make('label', { className: 'choice' }, make('input', { type: 'radio', name: 'side', value, checked: value === guest, disabled: !may.includes(value) }), text);
}

function newGame() {
  const guest = (state.visitor || {}).side || 'white', moves = (state.moves || []).length, may = (state.visitor || {}).sides || [guest];
  const sides = make('fieldset', {}, make('legend', {}, 'You play'), choice('white', 'White (open rings)', guest, may), choice('black', 'Black (filled rings)', guest, may));
  const time = make('input', { type: 'number', min: 0.1, max: 600, step: 'any', id: 'thinktime', placeholder: 'as now' });
  const from = beginning();
  const parts = [sides, ...from.parts, make('p', {}, make('label', { htmlFor: 'thinktime' }, 'My thinking time for a move, seconds '), time)];
  if (may.length < 2) parts.push(make('p', { className: 'hint' }, 'The other pieces hold no magnets: I cannot play them.'));
  if (moves && !state.result) parts.push(make('p', { className: 'hint' }, 'The game on the board ends unfinished.'));
  dialog('New game', parts, 'Set the pieces up', () => {
    const side = sides.querySelector('input:checked').value;
    const r = { for: 'new_game' };
    if (side !== guest) r.side = guest; // the machine takes the side that the guest had
    if (time.value) r.time_s = Number(time.value);
    return Object.assign(r, from.fields());
  });
}

// beginning lets the guest choose where a new game begins: as usual, with odds that I give, or
// from a position of their own.
function beginning() {
  const odds = ['queen', 'rook', 'knight', 'pawn'];
  const box = make('select', { id: 'beginfield' }, make('option', { value: '' }, 'as usual'),
    ...odds.map((k) => make('option', { value: k }, `${k} odds: I play without a ${k}`)), make('option', { value: 'fen' }, 'from another position …'));
  box.options[1].textContent = 'queen odds: I play without my queen';
  const editor = makeEditor(state.fen || '', (state.visitor || {}).side, pieceName), own = make('div', { className: 'own', hidden: true }, ...editor.parts);
  box.addEventListener('change', () => { own.hidden = box.value !== 'fen'; });
  return {
    parts: [make('p', {}, make('label', { htmlFor: 'beginfield' }, 'The game begins '), box), own],
    fields: () => (box.value === 'fen' ? { fen: editor.fen() } : box.value ? { odds: box.value } : {}),
  };
}

// nameMove lists the legal moves, grouped by piece.
function nameMove() {
  const groups = new Map();
  for (const m of state.legal || []) {
    const key = m.piece + m.move.slice(0, 2);
    if (!groups.has(key)) groups.set(key, []);
    groups.get(key).push(m);
  }
  const tell = (move) => () => { $('dialog').close(); ask(move ? { for: 'played', move } : { for: 'played' }); };
  const parts = [make('p', {}, 'Which move stands on the board?'),
    make('div', { className: 'choices' }, make('button', { type: 'button', onclick: tell('') }, 'Nothing was played'))];
  const order = 'KQRBNP';
  for (const [key, moves] of [...groups].sort(([a], [b]) => order.indexOf(a[0].toUpperCase()) - order.indexOf(b[0].toUpperCase()))) {
    parts.push(make('h3', {}, `${kindName(key[0])} on ${key.slice(1)}`), make('div', { className: 'chips' },
      ...moves.map((m) => make('button', { type: 'button', title: m.move, onclick: tell(m.move) }, m.san))));
  }
  dialog('Name the move', parts);
}

// agree lets a person say which position stands on the board.
function agree() {
  const editor = makeEditor(state.fen || '', (state.visitor || {}).side, pieceName);
  dialog('We agreed on another position', [make('p', {}, 'Make this the position that stands on the board: choose a piece, then its squares.'), ...editor.parts],
    'This is the position', () => ({ for: 'position', fen: editor.fen() }));
}
