// Drawing office: one rig judged, drawn and tried.
import { state, follow } from './live.js';
import { $, make, draw, sentence } from './words.js';
import { showBlock, showLost } from './parts.js';
import { showTrial, forgetTrial, tryWay } from './trial.js';

let shown = 0; // the edition on the page

follow((keys) => {
  const is = state.office;
  if (!is || !keys.has('office')) return;
  $('broken').textContent = is.broken || '';
  $('broken').hidden = !is.broken;
  document.body.classList.toggle('is-broken', Boolean(is.broken && is.edition));
  if (!is.edition) { $('headline').textContent = 'The rig file cannot be read.'; document.title = title(); }
  if (is.edition && is.edition !== shown) showEdition(is);
}, (yes) => { showLost(yes); if (!yes) document.title = title(); });

const title = () => `${$('headline').textContent} · Boardhand`;

// ask gets one part of the newest edition; a refusal is thrown with the server's sentence.
async function ask(what) {
  const reply = await fetch('office/' + what);
  const said = await reply.json();
  if (!reply.ok) throw new Error(said.error);
  return said;
}

async function showEdition(is) {
  shown = is.edition;
  const isMine = () => shown === is.edition; // a newer one may have come meanwhile
  showPages(is);
  try {
    const j = await ask('judgement');
    if (!isMine()) return;
    showJudgement(j);
    if (is.is_watched) { forgetTrial(); showTrial(await ask('knobs')); }
    const plots = await ask('plots');
    if (isMine()) showPlots(plots, is.edition);
    const sheets = await ask('sheets');
    if (isMine()) showSheets(sheets, is.edition);
  } catch (error) {
    $('broken').textContent = error.message;
    $('broken').hidden = false;
  }
}

// showPages links to the pages of a game, where one is played.
function showPages(is) {
  $('try').hidden = $('totry').hidden = !is.is_watched;
  if (!is.is_watched && $('pages').children.length === 2) $('pages').prepend(make('a', { href: './' }, 'Game'), make('a', { href: 'bench' }, 'Bench'));
}

const clock = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', second: '2-digit' });

function showJudgement(j) {
  $('headline').textContent = j.headline;
  document.body.dataset.verdict = j.verdict;
  document.title = title();
  $('tally').textContent = `${j.tally}. A real pair of magnets lies within 15 % of these forces.`;
  $('remarks').hidden = !(j.remarks || []).length;
  $('remarks').replaceChildren(...(j.remarks || []).map((t) => make('li', {}, t)));
  showBlock([['Rig', j.rig || 'in play'], ['Read', clock.format(new Date())], ['Report', make('span', {}, link('report.html', 'page'), ' · ', link('report.pdf', 'PDF'))]]);
  const needs = (c) => c.counts !== 'pass' || c.word === 'caution', open = j.checks.filter(needs), rest = j.checks.filter((c) => !needs(c));
  $('open').replaceChildren(open.length ? table(open) : make('p', { className: 'hint' }, 'Nothing needs work.'));
  $('passing').hidden = !rest.length;
  $('passing').open = $('passing').open || j.verdict === 'pass';
  $('passingcount').textContent = `${rest.length} ${open.length ? 'more, which pass or are' : 'pass or are'} accepted`;
  $('passed').replaceChildren(table(rest));
  $('careful').replaceChildren(...j.cautions.map((c) => make('li', {}, c.text, ' ', make('small', {}, `(${c.source})`))));
  $('keys').replaceChildren(...j.values.map((s) => make('div', {}, make('dt', {}, s.key), make('dd', {}, s.value))));
}

const link = (file, text) => make('a', { href: 'office/' + file, target: '_blank' }, text);

function table(checks) {
  const head = ['verdict', 'check', 'is', 'should be', 'reserve'].map((text) => make('th', { scope: 'col' }, text));
  return make('table', { className: 'lines' }, make('thead', {}, make('tr', {}, ...head)), ...checks.map(rows));
}

// rows are one check: verdict, value against limit, reserve drawn and in σ; below it why, and what to change.
function rows(c) {
  const unit = c.unit && c.unit !== '1' ? '\u202f' + c.unit : '';
  return make('tbody', { className: c.counts, id: 'check-' + c.id },
    make('tr', {},
      make('td', {}, make('span', { className: 'verdictbox ' + c.word }, c.word)),
      make('th', { scope: 'row' }, c.title, ' ', make('small', {}, c.id)),
      make('td', { className: 'n' }, c.is ? c.is.replace('-', '−') + unit : '–'),
      make('td', { className: 'n' }, c.should ? c.should + unit : ''),
      make('td', { className: 'n reserve' }, ...reserve(c, unit))),
    make('tr', { className: 'note' }, make('td', {}), make('td', { colSpan: 4 }, ...reasons(c))));
}

// reserve is what is left of the limit: in standard deviations of what builds differ by where they are known, else in the unit.
function reserve(c, unit) {
  if (!c.is) return ['–'];
  return [gauge(c.left, c.counts === 'fail'), make('span', {}, (c.sigma ? `${c.sigma}\u202fσ` : c.spare + unit).replace('-', '−'))];
}

// gauge draws how much of the limit is left: right of the tick there is some, left of it some is missing.
function gauge(share, isShort) {
  const to = Math.max(-1, Math.min(1, share)), x = 30 + 29 * to;
  return draw('svg', { viewBox: '0 0 60 12', class: 'gauge', 'aria-hidden': 'true' },
    draw('path', { d: 'M1 6H59', class: 'scale' }), draw('path', { d: `M30 6H${x}`, class: isShort ? 'run short' : 'run' }), draw('path', { d: 'M30 1V11', class: 'tick' }));
}

function reasons(c) {
  const out = [make('p', {}, sentence(c.why))];
  if (c.accepted) out.push(make('p', {}, make('b', {}, 'Accepted: '), sentence(c.accepted)));
  const ways = c.accepted ? [] : c.ways || [];
  if (ways.length || (c.besides && !c.accepted)) {
    out.push(make('ul', { className: 'ways' }, ...ways.map(way), ...(c.besides ? [make('li', {}, sentence(c.besides))] : [])));
  }
  out.push(make('details', {}, make('summary', {}, 'Formula and source', make('span', { className: 'unseen' }, ` of ${c.id}`)),
    ...(c.explain ? [make('p', {}, c.explain)] : []), make('p', {}, `Formula: ${c.formula}. Holds for: ${c.range}. Source: ${c.source}.`)));
  return out;
}

function way(w) {
  const li = make('li', {}, sentence(w.text));
  if (state.office.is_watched) li.append(' ', make('button', { type: 'button', className: 'lesser', onclick: () => tryWay(w.set) }, 'Try it', make('span', { className: 'unseen' }, `: ${w.text}`)));
  return li;
}

function showPlots(plots, edition) {
  $('figures').replaceChildren(...plots.map((p) => make('figure', { id: 'plot-' + p.id },
    make('img', { src: `office/plot/${p.id}?e=${edition}`, alt: p.title, loading: 'lazy' }), make('figcaption', {}, p.caption))));
}

function showSheets(sheets, edition) {
  $('all').hidden = !sheets.length;
  $('drawings').replaceChildren(...sheets.map((s) => {
    const at = (name) => `office/file/${name}?e=${edition}`;
    const head = make('h3', {}, s.title, s.scale ? `, ${s.scale}` : '');
    const pictures = s.pictures.map((name, i) => make('a', { href: at(name), target: '_blank' },
      make('img', { src: at(name), alt: s.pictures.length > 1 ? `${s.title}, page ${i + 1}` : s.title, loading: 'lazy' })));
    const files = s.files.map((name) => make('a', { href: at(name), download: name }, name));
    return make('article', {}, head, make('div', { className: 'previews' }, ...pictures), make('p', {}, s.use),
      make('p', { className: 'files' }, ...files, make('span', {}, `${s.pages} ${s.pages === 1 ? 'page' : 'pages'}`)));
  }));
}
