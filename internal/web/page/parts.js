// What House and Bench have in common: the sentence, the stations, questions,
// moves, the title block, stop and go.
import { state, post } from './live.js';
import { $, make } from './words.js';

const stations = [
  ['guest', 'Your move'], ['reading', 'Reading'], ['thinking', 'Thinking'], ['carrying', 'Carrying'], ['verifying', 'Checking'],
];
const beside = { starting: 'Getting ready', undoing: 'Taking back', arranging: 'Setting up', removal: 'A hand, please', trouble: 'Needs help', over: 'Game over' };

// complain shows a refusal until the next event puts it right.
export function complain(error) {
  $('complaint').textContent = error ? error.message : '';
  $('complaint').hidden = !error;
}

// tryTo runs an action and shows its refusal; it throws on for the caller.
export async function tryTo(what, body) {
  try {
    await post(what, body);
    complain(null);
  } catch (error) {
    complain(error);
    throw error;
  }
}

const quietly = (promise) => promise.catch(() => {}); // the complaint is on the page already

export function showWord(keys) {
  if (keys.has('sentence') && $('sentence').textContent !== state.sentence) {
    $('sentence').textContent = state.sentence || 'One moment, please.';
    complain(null);
  }
  if (keys.has('state') || keys.has('halted')) showStations();
  if (keys.has('halted')) showHalted();
}

// showStations draws the round of a move with the present station filled.
function showStations() {
  const now = state.state;
  document.body.dataset.state = state.halted ? 'halted' : now || '';
  const maker = document.body.classList.contains('bench');
  const items = stations.map(([name, text]) => station(name === now && !state.halted, name === 'guest' && maker ? 'Guest' : text));
  if (state.halted) items.push(station(true, 'Stopped', 'alarm'));
  else if (beside[now]) items.push(station(true, beside[now], now === 'trouble' || now === 'removal' ? 'alarm' : ''));
  $('stations').replaceChildren(...items);
}

function station(on, text, kind = '') {
  const e = make('li', { className: kind }, make('span', {}, text));
  if (on) e.setAttribute('aria-current', 'step');
  return e;
}

function showHalted() {
  $('resume').hidden = !state.halted;
  $('halt').disabled = Boolean(state.halted);
}

export function wireStop() {
  $('halt').addEventListener('click', () => quietly(tryTo('halt')));
  $('resume').addEventListener('click', () => quietly(tryTo('resume')));
}

export function showQuestion() {
  const q = state.question || {}, box = $('question');
  box.hidden = !q.text;
  if (!q.text) return box.replaceChildren();
  const buttons = (q.choices || []).map((text, choice) => make('button', {
    type: 'button', onclick: () => quietly(tryTo('answer', { n: q.n, choice })),
  }, text));
  box.replaceChildren(make('p', { className: 'asked' }, q.text), make('div', { className: 'choices' }, ...buttons));
}

// showOffers has one button for each thing that may be wished for now.
export function showOffers() {
  const offers = state.offers || [], box = $('offers');
  box.hidden = !offers.length;
  box.replaceChildren(...offers.map((o) => make('button', { type: 'button', onclick: () => quietly(tryTo('wish', o.wish)) }, o.text)));
}

// showMoves is the table of moves, newest in view.
export function showMoves() {
  const moves = state.moves || [], rows = [];
  for (let i = 0; i < moves.length; i += 2) {
    rows.push(make('tr', {}, make('td', {}, String(i / 2 + 1)), make('td', {}, moves[i]), make('td', {}, moves[i + 1] || '')));
  }
  if (state.result) rows.push(make('tr', {}, make('td', {}), make('td', { colSpan: 2 }, state.result.replaceAll('-', ' – '))));
  while (rows.length < 6) rows.push(make('tr', { ariaHidden: 'true' }, make('td', {}, '\u00a0'), make('td', {}), make('td', {})));
  $('moves').replaceChildren(...rows);
  const scroll = $('moves').closest('.scroll');
  scroll.scrollTop = scroll.scrollHeight;
}

// showBlock fills the title block: what is drawn, in which scale, of which machine.
export function showBlock(plan, sheetName, more, most = 99) {
  const m = state.machine || {};
  const scale = plan.scale();
  const rows = [
    ['Machine', m.name || 'not described yet'], ['Sheet', sheetName],
    ['Scale', scale && m.square_mm ? (scale < 1 ? `1 : ${(1 / scale).toFixed(1)}` : `${scale.toFixed(1)} : 1`) : '–'],
    ...(m.rows || []).slice(0, most).map((r) => [r.name, r.value]), ...more,
  ];
  $('block').replaceChildren(...rows.map(([name, value]) => make('div', {}, make('dt', {}, name), make('dd', {}, value))));
}

export function showLost(yes) {
  $('lost').hidden = !yes;
  document.body.classList.toggle('is-lost', yes);
}
