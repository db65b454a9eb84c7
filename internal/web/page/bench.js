// Bench: the maker's page.
import { state, follow } from './live.js';
import { $, make, signed } from './words.js';
import { makePlan } from './plan.js';
import { makeOverlay } from './overlay.js';
import { showReading } from './reading.js';
import { showWord, showQuestion, showMoves, showBlock, scaleText, showLost, wireStop } from './parts.js';
import { showLog, showPicture } from './camera.js';
import { showOffers } from './requests.js';

const plan = makePlan($('plan'), state, { dimensions: true, trueFeet: true, workings: true });
const overlay = makeOverlay($('frame'), state);
wireStop();

const layers = [
  ['lanes', 'routes', 'Planned ways of the magnet: dashed where it carries, dotted where it travels'],
  ['clearances', 'clearances', 'Free room beside a carried piece at its narrowest places, mm'],
  ['lean', 'lean', 'What each piece covers of the board, seen from the camera'],
  ['carriage', 'carriage', 'The axes and the magnet, now'],
  ['reach', 'reach', 'Where the magnet can get to'],
  ['marks', 'marks', 'Centre lines of the pieces'],
];
for (const [name, text, title] of layers) {
  const box = make('input', { type: 'checkbox', checked: true, onchange: () => plan.show(name, box.checked) });
  $('layers').append(make('label', { title }, box, text));
}
const box = make('input', { type: 'checkbox', checked: true, onchange: () => $('frame').classList.toggle('bare', !box.checked) });
$('layers').append(make('label', { title: 'The edges of the squares and the outlines of the pieces where they are believed to be' }, box, 'what I believe, over the picture'));

$('enlarge').addEventListener('click', () => {
  $('enlarge').setAttribute('aria-pressed', document.body.classList.toggle('enlarged'));
});

follow((keys) => {
  showWord(keys);
  plan.changed(keys);
  if (keys.has('question')) showQuestion();
  if (keys.has('offers')) showOffers();
  if (keys.has('suspicion')) showSuspicion();
  if (keys.has('moves') || keys.has('result')) showMoves();
  if (keys.has('picture')) showPicture(overlay.sized);
  if (keys.has('reading') || keys.has('view') || keys.has('lean')) overlay.changed();
  if (keys.has('reading') || keys.has('pieces')) showReading($('reading'), state);
  if (keys.has('log')) showLog();
  if (keys.has('machine')) block();
}, showLost);

plan.onCarriage = ([x, y], raised) => {
  $('where').textContent = `Magnet ${raised ? 'up' : 'down'} · x ${signed(x)} · y ${signed(y)} mm`;
};

function showSuspicion() {
  $('suspicion').hidden = !state.suspicion;
  $('suspicion').textContent = state.suspicion || '';
}

function block() {
  const m = state.machine || {};
  showBlock([['Machine', m.name || 'not described yet'], ['Scale', scaleText(plan)],
    ...(m.rows || []).map((r) => [r.name, r.value]), ['Pieces', 'true size of the base']]);
}
new ResizeObserver(block).observe($('plan'));
showMoves();
