// Game: the guest's page.
import { state, follow } from './live.js';
import { $, make, pieceName, kindName, isWhite } from './words.js';
import { makePlan } from './plan.js';
import { makeHand, tapBeside } from './hand.js';
import { heading, promotion, showWord, showQuestion, showMoves, showBlock, showLost, wireStop, tryTo, complain, quietly } from './parts.js';
import { showOffers } from './requests.js';
import { showStrength } from './strength.js';
import { makeVoice } from './voice.js';

const plan = makePlan($('plan'), state, { tray: true, dimensions: true });
const hear = (text) => { $('heard').textContent = text; };
const hand = makeHand(plan, (act) => tryTo('hand', act), hear, (text) => { hear(''); complain(new Error(text)); });
const voice = makeVoice($('speak'));
wireStop();

plan.svg.addEventListener('pointerup', (p) => tapBeside(hand, p));

// free says whether the visitor may touch the pieces now, or why not.
hand.free = () => {
  const v = state.visitor || {};
  if (!v.plays) return v.why || 'This game is played at the board: move the pieces there.';
  if (state.hands) return true;
  if (state.state === 'over') return 'The game is over: ask for a new one.';
  if (state.state === 'thinking') return 'One moment, please: I am choosing my move.';
  return 'Hands off, please: the machine is at work.';
};

let said = '';
follow((keys) => {
  const some = (...names) => names.some((n) => keys.has(n));
  showWord(keys);
  plan.changed(keys);
  if (some('pieces', 'machine', 'visitor')) hand.changed();
  if (heading() !== said) { said = heading(); voice.say(said); }
  if (some('question')) showQuestion();
  if (some('offers', 'state')) showOffers();
  if (some('strength', 'offers')) showStrength();
  if (some('moves', 'result')) showMoves();
  if (some('pieces', 'visitor', 'hands', 'question')) showPromotion();
  if (some('pieces', 'visitor', 'wanted', 'hands')) showWanted();
  if (some('visitor', 'hands')) showHow();
  if (some('machine', 'visitor', 'moves', 'pieces')) block();
}, showLost);

const colour = (side) => (side === 'black' ? 'Black (filled rings)' : 'White (open rings)');
const other = (side) => (side === 'black' ? 'white' : 'black');

function showHow() {
  const v = state.visitor || {}, plays = Boolean(v.plays);
  $('how').hidden = !plays;
  $('who').textContent = plays ? `You play ${colour(v.side)}` : `The guest plays ${colour(v.side)}`;
  document.body.classList.toggle('plays', plays && Boolean(state.hands));
}

// showPromotion offers the pieces that may replace a pawn on its last rank.
function showPromotion() {
  const box = $('promote'), pawn = promotion();
  box.hidden = !pawn || Boolean((state.question || {}).text);
  if (box.hidden) return box.replaceChildren();
  box.replaceChildren(make('div', { className: 'choices' }, ...['Q', 'R', 'B', 'N'].map((k) => {
    const piece = isWhite(pawn.piece) ? k : k.toLowerCase();
    return make('button', { type: 'button', onclick: () => quietly(tryTo('hand', { from: 'off', to: pawn.square, piece })) }, kindName(k));
  })));
}

// showWanted gives a visitor one button for each thing the sentence asks for.
function showWanted() {
  const v = state.visitor || {}, box = $('wanted');
  const on = (square) => ((state.pieces || []).find((p) => p.square === square) || {}).piece;
  const open = (state.wanted || []).filter((w) => (w.from === 'off' ? on(w.to) !== w.piece : on(w.from) === w.piece));
  box.hidden = !v.plays || !state.hands || !open.length;
  box.replaceChildren(make('div', { className: 'choices' }, ...open.map((w) => make('button', {
    type: 'button', onclick: () => quietly(tryTo('hand', w.from === 'off' ? w : { from: w.from, to: w.to })),
  }, asked(w)))));
}

function asked(w) {
  if (w.from === 'off') return `Put the ${pieceName(w.piece)} on ${w.to}`;
  if (w.to === 'off') return `Take the ${pieceName(w.piece)} off ${w.from}`;
  return `Move the ${pieceName(w.piece)} from ${w.from} to ${w.to}`;
}

// block is the guest's title block: who plays what, and how to read the plan.
function block() {
  const v = state.visitor || {}, m = state.machine || {}, moves = state.moves || [];
  const off = (state.pieces || []).filter((p) => !p.square).map((p) => p.piece);
  const taken = (white) => off.filter((p) => isWhite(p) === white).map((p) => p.toUpperCase()).join(' ') || 'none';
  showBlock([
    ['Machine', m.name || 'not described yet'],
    [v.plays ? 'You play' : 'The guest plays', colour(v.side)], ['I play', colour(other(v.side))],
    ['Move', String(Math.floor(moves.length / 2) + 1)], ['White pieces off', taken(true)], ['Black pieces off', taken(false)],
    ['Key', 'K king, Q queen, R rook, B bishop, N knight, P pawn'],
  ]);
}

showMoves();
