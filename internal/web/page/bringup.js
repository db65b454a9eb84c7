// Bring-up: the first start of a machine, step by step.
import { state, follow } from './live.js';
import { $, make, draw } from './words.js';
import { complain, quietly, showLost, tryTo, wireStop } from './parts.js';
import { showLog, showPicture } from './camera.js';

wireStop();

follow((keys) => {
  const b = state.bringup || { steps: [] };
  if (keys.has('bringup')) { showSteps(b); showOutline(b); }
  if (keys.has('bringup') || keys.has('question') || keys.has('sentence') || keys.has('halted') || keys.has('state')) showNow(b);
  if (keys.has('view') && state.view.width_px) $('frame').style.aspectRatio = `${state.view.width_px} / ${state.view.height_px}`;
  if (keys.has('picture')) { $('sight').hidden = false; showPicture(); }
  if (keys.has('log')) showLog();
}, showLost);

const isAsked = () => Boolean((state.question || {}).text);

// instead does something else than answer the question; its number goes with it.
const instead = (what, step) => quietly(tryTo('step', { n: (state.question || {}).n, do: what, step }));

// showNow shows the step that is on, what it is about, how far it is and what is asked.
let asked = 0;
function showNow(b) {
  const at = b.steps.findIndex((s) => s.name === b.now), step = b.steps[at];
  const title = step ? step.title : state.sentence || 'One moment, please.';
  if ($('sentence').textContent !== title) $('sentence').textContent = title;
  document.title = `${title} · Boardhand`;
  document.body.dataset.state = state.halted ? 'halted' : state.state || '';
  $('place').textContent = step ? `Step ${at + 1} of ${b.steps.length}` : '';
  $('says').textContent = step ? step.says.replace(/\s+/g, ' ') : '';
  const c = b.count || {};
  $('progress').hidden = isAsked() || !step;
  $('progress').replaceChildren(c.of ? `${c.done} of ${c.of} ${c.what}` : 'At work', ...(c.of ? [make('progress', { max: c.of, value: c.done })] : []),
    ...(step && step.moves && !isAsked() ? [make('strong', {}, 'The carriage may move: keep fingers away.')] : []));
  $('sight').hidden = !state.picture && !b.hold;
  showAsked(b);
}

function showAsked(b) {
  const q = state.question || {}, box = $('question'), mark = `${q.n} ${b.leave}`;
  box.hidden = !q.text;
  if (!q.text) { asked = 0; return; }
  if (asked === mark) return; // its buttons stay as they are, under a finger too
  asked = mark;
  complain(null);
  const buttons = (q.choices || []).map((text, choice) => make('button', {
    type: 'button', className: choice ? '' : 'go', onclick: () => quietly(tryTo('answer', { n: q.n, choice })),
  }, text));
  if (b.leave) buttons.push(make('button', { type: 'button', className: 'lesser', onclick: () => instead('later') }, 'Leave this step for later'));
  box.replaceChildren(make('p', { className: 'asked' }, q.text), make('div', { className: 'choices' }, ...buttons));
}

// showOutline draws where a checkerboard is to be held.
function showOutline(b) {
  const points = (b.hold || []).map((p) => p.join(',')).join(' ');
  $('overlay').replaceChildren(...(points ? [draw('polygon', { points, class: 'sheet under' }), draw('polygon', { points, class: 'sheet' })] : []));
}

const day = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric', hour: '2-digit', minute: '2-digit' });
const words = { done: 'done', now: 'now', later: 'left for later', '': 'to come' };

// showSteps shows all steps with what they measured.
let shown = '';
function showSteps(b) {
  const mark = JSON.stringify([b.steps, b.record, b.residuals]);
  if (mark === shown) return;
  shown = mark;
  $('papers').hidden = !b.record;
  $('left').hidden = !b.residuals;
  if (b.residuals) $('residuals').src = `papers/residuals.svg?n=${b.residuals}`;
  $('steps').replaceChildren(...b.steps.map(stepItem));
}

function stepItem(s) {
  const when = s.state === 'done' && s.when ? `${words.done}, ${day.format(new Date(s.when))}` : words[s.state];
  const item = make('li', { className: s.state || 'tocome' }, make('h3', {}, s.title), make('span', { className: 'when' }, when));
  if (s.state === 'now') item.setAttribute('aria-current', 'step');
  if (s.state === 'done' || s.state === 'later') {
    const text = s.state === 'later' ? 'Do it now' : (s.figures || []).length || s.name === 'lens' ? 'Measure again' : 'Do again';
    item.append(make('button', { type: 'button', className: 'lesser', title: 'What was measured stays until it has been measured anew', onclick: () => instead('again', s.name) }, text));
  }
  if (s.note) item.append(make('p', { className: 'note' }, s.note));
  if ((s.figures || []).length) item.append(table(s.figures));
  return item;
}

function table(figures) {
  const head = ['', 'planned', 'measured', 'allowed'].map((text) => make('th', { scope: 'col' }, text));
  const rows = figures.flatMap((f) => {
    const unit = f.unit ? '\u202f' + f.unit : '';
    const row = make('tr', { className: f.off ? 'off' : '' }, make('th', { scope: 'row' }, f.what), make('td', {}, f.planned + unit),
      make('td', {}, make('b', {}, f.measured), f.sigma ? ` ${f.sigma}` : '', unit), make('td', {}, f.allowed));
    const cause = f.off && make('tr', { className: 'cause' }, make('td', { colSpan: 4 }, `Off. Likely: ${f.cause}.`));
    return cause ? [row, cause] : [row];
  });
  return make('table', {}, make('thead', {}, make('tr', {}, ...head)), make('tbody', {}, ...rows));
}
