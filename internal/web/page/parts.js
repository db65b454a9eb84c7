// What the pages have in common: the sentence, the stations, questions,
// moves, the title block, stop and resume.
import { state, post } from './live.js';
import { $, make } from './words.js';

const stations = [
  ['guest', 'Your move'], ['reading', 'Reading'], ['thinking', 'Thinking'], ['carrying', 'Carrying'], ['verifying', 'Confirming'],
];
const beside = { starting: 'Getting ready', undoing: 'Taking back', arranging: 'Setting up', removal: 'Please help', trouble: 'Needs help', over: 'Game over' };

// complain shows a refusal until the next sentence puts it right.
export function complain(error) {
  $('complaint').textContent = error ? error.message[0].toUpperCase() + error.message.slice(1) : '';
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

export const quietly = (promise) => promise.catch(() => {}); // the complaint is on the page already

// heading is what the page says largest: a question goes before the sentence.
export function heading() {
  const q = state.question || {};
  return q.text || promotion() && `Which piece does your pawn become on ${promotion().square}?` || state.sentence || 'One moment, please.';
}

// showWord shows the heading, the sentence under a question, and what else the
// guest should know while they wait.
export function showWord(keys) {
  const text = heading();
  if ($('sentence').textContent !== text) {
    $('sentence').textContent = text;
    $('sentence').classList.toggle('long', text.length > 64);
    complain(null);
    document.title = `${text} · Boardhand`;
  }
  const q = state.question || {};
  $('before').hidden = !(q.text && state.sentence);
  $('before').textContent = q.text ? state.sentence || '' : '';
  showAside();
  if (keys.has('office')) linkOffice();
  if (keys.has('state') || keys.has('halted')) showStations();
  if (keys.has('halted') || keys.has('offers')) showHalted();
}

// showAside acknowledges a hand, and a reading that takes long.
function showAside() {
  const r = state.reading || {}, reads = ['guest', 'reading', 'removal'].includes(state.state);
  let text = '';
  if (reads && r.state === 'hand') text = `I see your hand${(r.squares || []).length === 1 ? ' at ' + r.squares[0] : ''}. Take your time.`;
  if (state.slow) text = 'I am still looking: this picture takes longer than usual.';
  if ($('aside').textContent !== text) $('aside').textContent = text;
}

// promotion is the visitor's pawn that stands on its last rank and is to be
// exchanged.
export function promotion() {
  const v = state.visitor || {}, pawn = v.side === 'black' ? 'p' : 'P', last = v.side === 'black' ? '1' : '8';
  if (!v.plays || !state.hands || document.body.classList.contains('bench')) return undefined;
  return (state.pieces || []).find((p) => p.piece === pawn && p.square && p.square[1] === last);
}

// linkOffice adds the Drawing office to the pages, where there is one.
function linkOffice() {
  const nav = document.querySelector('nav');
  if (state.office && !nav.querySelector('[href="office"]')) nav.lastElementChild.before(make('a', { href: 'office' }, 'Drawing office'));
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

// showHalted shows Resume whenever there is something to resume.
function showHalted() {
  const may = (state.offers || []).some((o) => o.request.for === 'resume');
  $('resume').hidden = !may && !state.halted;
  $('resume').disabled = !may;
  $('halt').disabled = Boolean(state.halted);
}

export function wireStop() {
  $('halt').addEventListener('click', () => quietly(tryTo('halt')));
  $('resume')?.addEventListener('click', () => quietly(tryTo('resume')));
  document.addEventListener('keydown', (e) => {
    if (e.key !== 'F9' || $('halt').disabled) return;
    e.preventDefault();
    $('halt').click();
  });
  if (location.search.includes('code=')) history.replaceState(null, '', location.pathname); // it is in the cookie now
}

export function showQuestion() {
  const q = state.question || {}, box = $('question');
  box.hidden = !q.text;
  if (!q.text) return box.replaceChildren();
  const buttons = (q.choices || []).map((text, choice) => make('button', {
    type: 'button', onclick: () => quietly(tryTo('answer', { n: q.n, choice })),
  }, text));
  box.replaceChildren(make('div', { className: 'choices' }, ...buttons));
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

// showBlock fills the title block.
export function showBlock(rows) {
  $('block').replaceChildren(...rows.map(([name, value]) => make('div', {}, make('dt', {}, name), make('dd', {}, value))));
}

// scaleText is the scale of a plan as a drawing gives it.
export function scaleText(plan) {
  const scale = plan.scale();
  if (!scale || !(state.machine || {}).square_mm) return '–';
  return scale < 1 ? `1 : ${(1 / scale).toFixed(1)}` : `${scale.toFixed(1)} : 1`;
}

// showLost greys the sheet and takes its buttons away while the machine cannot
// be reached; Stop stays, for what it is worth.
export function showLost(yes) {
  $('lost').hidden = !yes;
  document.title = `${yes ? 'No connection' : heading()} · Boardhand`;
  document.body.classList.toggle('is-lost', yes);
  for (const e of document.querySelectorAll('.alive')) e.inert = yes;
  }
