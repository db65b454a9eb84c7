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

const layers = [['lanes', 'routes'], ['clearances', 'clearances'], ['lean', 'lean'], ['carriage', 'carriage'], ['reach', 'reach'], ['marks', 'marks']];
for (const [name, text] of layers) {
  const box = make('input', { type: 'checkbox', checked: true, onchange: () => plan.show(name, box.checked) });
  $('layers').append(make('label', {}, box, text));
}
const box = make('input', { type: 'checkbox', checked: true, onchange: () => $('frame').classList.toggle('bare', !box.checked) });
$('layers').append(make('label', {}, box, 'what I believe, over the picture'));

follow((keys) => {
  showWord(keys);
  plan.changed(keys);
  if (keys.has('question')) showQuestion();
  if (keys.has('offers')) showOffers();
  if (keys.has('suspicion')) showSuspicion();
  if (keys.has('moves') || keys.has('result')) showMoves();
  if (keys.has('picture')) showPicture(overlay.sized);
  if (keys.has('reading') || keys.has('view')) overlay.changed();
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
