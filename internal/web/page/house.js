// House: the guest's sheet.
import { state, follow } from './live.js';
import { $, make, kindName, manName, isWhite } from './words.js';
import { makePlan } from './plan.js';
import { makeHand, tapBeside } from './hand.js';
import { showWord, showQuestion, showOffers, showMoves, showBlock, showLost, wireStop, tryTo } from './parts.js';
import { makeVoice } from './voice.js';

const plan = makePlan($('plan'), state, { tray: true, dimensions: true });
const hand = makeHand(plan, (act) => tryTo('hand', act), (text) => { $('heard').textContent = text; });
const voice = makeVoice($('speak'));
wireStop();

plan.svg.addEventListener('pointerup', (p) => tapBeside(hand, p));

// free says whether the visitor may touch the men now, or why not.
hand.free = () => {
  const v = state.visitor || {};
  if (!v.plays) return 'This game is played at the board: move the men there.';
  if (state.halted) return 'The machine is stopped. Let it go on first.';
  if (['carrying', 'starting', 'undoing', 'arranging'].includes(state.state)) return 'Hands off, please: the carriage is at work.';
  if (state.state === 'over') return 'The game is over.';
  return true;
};

follow((keys) => {
  showWord(keys);
  plan.changed(keys);
  if (keys.has('men') || keys.has('machine') || keys.has('visitor')) hand.changed();
  if (keys.has('sentence')) voice.say(state.sentence);
  if (keys.has('question')) showQuestion();
  if (keys.has('offers')) showOffers();
  if (keys.has('question') && state.question && state.question.text) voice.add(state.question.text);
  if (keys.has('moves') || keys.has('result')) showMoves();
  if (keys.has('men') || keys.has('visitor')) showPromotion();
  if (keys.has('men') || keys.has('visitor') || keys.has('wanted')) showWanted();
  if (keys.has('visitor')) showHow();
  if (keys.has('machine') || keys.has('visitor')) block();
}, showLost);

function showHow() {
  const plays = Boolean((state.visitor || {}).plays);
  $('how').hidden = !plays;
  document.body.classList.toggle('plays', plays);
}

// showWanted gives a visitor one button for each thing the sentence asks for.
function showWanted() {
  const v = state.visitor || {}, box = $('wanted');
  const on = (square) => ((state.men || []).find((m) => m.square === square) || {}).piece;
  const open = (state.wanted || []).filter((w) => (w.from === 'off' ? on(w.to) !== w.piece : on(w.from)));
  box.hidden = !v.plays || !open.length;
  box.replaceChildren(make('div', { className: 'choices' }, ...open.map((w) => make('button', {
    type: 'button', onclick: () => tryTo('hand', w).catch(() => {}),
  }, asked(w, on(w.from) || w.piece || '')))));
}

function asked(w, piece) {
  if (w.from === 'off') return `Put the ${manName(piece)} on ${w.to}`;
  if (w.to === 'off') return `Take the ${manName(piece)} off ${w.from}`;
  return `Move the ${manName(piece)} from ${w.from} to ${w.to}`;
}

// showPromotion offers the men that may replace a pawn on its last rank.
function showPromotion() {
  const v = state.visitor || {}, box = $('promote');
  const pawn = v.side === 'black' ? 'p' : 'P', last = v.side === 'black' ? '1' : '8';
  const man = v.plays && (state.men || []).find((m) => m.piece === pawn && m.square && m.square[1] === last);
  box.hidden = !man;
  if (!man) return;
  const buttons = ['Q', 'R', 'B', 'N'].map((k) => {
    const piece = isWhite(pawn) ? k : k.toLowerCase();
    return make('button', { type: 'button', onclick: () => tryTo('hand', { from: 'off', to: man.square, piece }).catch(() => {}) }, kindName(k));
  });
  box.replaceChildren(make('p', { className: 'asked' }, `Which man takes the pawn's place on ${man.square}?`), make('div', { className: 'choices' }, ...buttons));
}

const block = () => showBlock(plan, '1 House', [['Men', 'larger than their feet; true size while one is carried'], ['Key', 'open ring White, filled ring Black']], 4);
new ResizeObserver(block).observe($('plan'));
showMoves();
