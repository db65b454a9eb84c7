// What if: knobs that are turned on the page, judged by the program, written nowhere.
import { $, make, sentence } from './words.js';

let knobs = [];           // as the program lists them
const turned = new Map(); // key of the rig file → its value on the page

// showTrial lists the knobs.
export function showTrial(all) {
  knobs = all.map((k) => ({ ...k, now: k.at }));
  const groups = [...new Set(all.map((k) => k.group))], opened = [...document.querySelectorAll('.group[open] > summary')].map((e) => e.textContent);
  $('knobs').replaceChildren(...groups.map((g, i) => make('details', { className: 'group', open: opened.length ? opened.includes(g) : i === 0 }, make('summary', {}, g), ...knobs.filter((k) => k.group === g).map(knobRow))));
  showOutcome(null);
}

// forgetTrial is for a file that was saved anew: what was tried was of the one before.
export function forgetTrial() {
  turned.clear();
  complain('');
}

function knobRow(k) {
  const id = 'knob-' + k.name.replaceAll('.', '-');
  k.out = make('output', { htmlFor: id }, k.steps[k.at].label);
  k.slider = make('input', { type: 'range', id, min: 0, max: k.steps.length - 1, value: k.at });
  k.slider.addEventListener('input', () => turn(k, Number(k.slider.value)));
  k.row = make('div', { className: 'knob' }, make('label', { htmlFor: id }, k.title), k.out, k.slider);
  place(k, k.at);
  return k.row;
}

// place shows where a knob stands; a key that another knob, or a check, has set may be beyond its steps.
function place(k, at) {
  const own = turned.get(k.name);
  k.now = at;
  k.slider.value = at;
  k.out.textContent = own ? own.replaceAll('"', '') : k.steps[at].label || 'not given';
  k.slider.setAttribute('aria-valuetext', k.out.textContent);
  k.row.classList.toggle('is-turned', at !== k.at || Boolean(own));
}

const setOf = (k, at) => k.steps[at].set || [];

// agrees says whether a step is what is turned on the page: by the key that the knob is named by, else by all its keys.
function agrees(k, at) {
  const all = setOf(k, at), own = all.filter((s) => s.key === k.name);
  return all.length > 0 && (own.length ? own : all).every((s) => turned.get(s.key) === s.value);
}

// settle shows all knobs where they stand by what is turned.
function settle() {
  for (const k of knobs) {
    const at = agrees(k, k.now) ? k.now : k.steps.findIndex((_, i) => agrees(k, i));
    place(k, at < 0 ? k.at : at);
  }
}

// turn moves one knob.
function turn(k, at) {
  for (const s of setOf(k, k.now)) turned.delete(s.key);
  for (const s of setOf(k, at)) turned.set(s.key, s.value);
  k.now = at;
  settle();
  soon();
}

// tryWay sets what a check says would mend it.
export function tryWay(set) {
  for (const s of set) turned.set(s.key, s.value);
  settle();
  for (const k of knobs) if (k.now !== k.at) k.row.closest('details').open = true;
  soon();
  $('try').scrollIntoView({ block: 'start' });
  $('try').focus({ preventScroll: true });
}

$('reset').addEventListener('click', () => { forgetTrial(); settle(); judge(); });

$('copy').addEventListener('click', async () => {
  try {
    await navigator.clipboard.writeText($('text').textContent);
    $('copy').textContent = 'Copied';
  } catch {
    getSelection().selectAllChildren($('text'));
    $('copy').textContent = 'Marked: copy it with Ctrl-C';
  }
});

function complain(text) {
  $('complaint').textContent = sentence(text);
  $('complaint').hidden = !text;
}

// soon judges when no knob has been turned for a moment; what is on its way then is given up.
let timer = 0, running = null;
function soon() {
  clearTimeout(timer);
  timer = setTimeout(judge, 150);
}

async function judge() {
  running?.abort();
  if (!turned.size) { showOutcome(null); complain(''); return; }
  const mine = running = new AbortController();
  $('outcome').classList.add('is-old');
  try {
    const reply = await fetch('office/try', {
      method: 'POST', headers: { 'Content-Type': 'application/json' }, signal: mine.signal,
      body: JSON.stringify({ set: [...turned].map(([key, value]) => ({ key, value })) }),
    });
    const said = await reply.json();
    if (mine !== running) return;
    complain(reply.ok ? '' : said.error);
    if (reply.ok) showOutcome(said);
  } catch (error) {
    if (error.name !== 'AbortError') complain('The program does not answer.');
  }
}

// showOutcome tells what the values on the page do; nothing where they are those of the file.
function showOutcome(r) {
  $('reset').hidden = $('lines').hidden = !r;
  $('outcome').classList.remove('is-old');
  $('outcome').dataset.verdict = r ? r.verdicts[1] : '';
  if (!r) {
    $('outcome').replaceChildren(make('p', { className: 'hint' }, 'Turn what you would change, and see what it does. Nothing is written to your file.'));
    return;
  }
  $('text').textContent = r.text;
  $('copy').textContent = 'Copy';
  const turnedLines = (r.lines || []).filter((l) => !l.before || !l.after || l.before.counts !== l.after.counts);
  const others = (r.lines || []).filter((l) => !turnedLines.includes(l));
  const left = (r.left || []).filter((c) => !turnedLines.some((l) => l.id === c.id));
  $('outcome').replaceChildren(make('p', { className: 'then' }, r.headline),
    make('p', { className: 'hint' }, (r.keys || []).map((k) => `${k.key} ${k.a || 'not given'} → ${k.b || 'not given'}`).join(', ')),
    list('Turns', turnedLines.map(turnedItem)), list('Still open', left.map((c) => make('li', {}, box(c), ' ', c.id, ` ${numbers(c)}`))),
    ...(others.length ? [make('details', {}, make('summary', {}, `${others.length} more read otherwise, ${r.same} stay`), make('ul', {}, ...others.map(turnedItem)))] : []));
}

const list = (title, items) => items.length ? make('div', {}, make('h3', {}, title), make('ul', {}, ...items)) : '';
const box = (c) => make('span', { className: 'verdictbox ' + c.word }, c.word);
const numbers = (c) => c.is ? `${c.is}, ${c.should} ${c.unit === '1' ? '' : c.unit}` : '';

function turnedItem(l) {
  const sides = [l.before, l.after].map((c) => c ? [box(c)] : ['not there']);
  return make('li', {}, ...sides[0], ' → ', ...sides[1], ` ${l.id} `, make('small', {}, [l.before, l.after].map((c) => c ? numbers(c) || '–' : '–').join(' → ')));
}
