// The reading in words and figures.
import { make, draw, signed, pieceName } from './words.js';

const means = {
  same: 'No change', move: 'Move finished', hand: 'Hand over the board', partial: 'A move half done',
  illegal: 'No legal move explains it', unsure: 'Several explanations',
};

export function showReading(box, state) {
  const r = state.reading || {};
  const out = [];
  if (r.state) out.push(head(r));
  if ((r.candidates || []).length) out.push(candidates(r.candidates));
  const strays = worst(state.pieces || [], state.machine);
  if (strays.length) out.push(offsets(strays));
  if (!out.length) out.push(make('p', { className: 'hint' }, 'Nothing read yet.'));
  box.replaceChildren(...out);
}

function head(r) {
  const out = make('p', { className: 'verdict ' + r.state });
  const said = r.san || r.move;
  out.append(make('b', {}, `${means[r.state] || r.state}${said ? ': ' + said : ''}`));
  const facts = [];
  if (r.belief) facts.push(`confidence ${percent(r.belief)}`);
  if ((r.squares || []).length) facts.push('changed squares ' + r.squares.join(' '));
  out.append(make('small', {}, facts.join(' · ')));
  return out;
}

// percent never rounds a doubt away.
export function percent(b) {
  if (b >= 1) return '100 %';
  const doubt = 1 - b;
  return doubt < 0.001 ? '>99.9 %' : (Math.floor(b * 1000) / 10).toFixed(1) + ' %';
}

function candidates(list) {
  const rows = list.map((c) => make('tr', {}, make('th', { scope: 'row' }, c.san || c.move || 'nothing'), make('td', {}, rule(c.belief)), make('td', {}, percent(c.belief))));
  return make('table', { className: 'candidates' }, make('caption', {}, 'Explanations'), make('tbody', {}, ...rows));
}

// rule is a scale from 0 to 1 with the belief as a pointer on it.
function rule(b) {
  const s = draw('svg', { viewBox: '0 0 100 12', class: 'rule', preserveAspectRatio: 'none', 'aria-hidden': 'true' });
  for (let i = 0; i <= 10; i++) s.append(draw('path', { d: `M${i * 10} 12V${i % 5 ? 9 : 6}`, class: 'tick' }));
  s.append(draw('path', { d: 'M0 11.5H100', class: 'tick' }), draw('path', { d: `M0 11V7H${100 * b}V11Z`, class: 'run' }));
  return s;
}

// worst are the five pieces that stand farthest off their squares' centres; one
// on its way elsewhere is not among them.
function worst(pieces, machine) {
  const sq = (machine && machine.square_mm) || 32;
  return pieces.filter((m) => m.square).map((m) => {
    const dx = m.x_mm - ('abcdefgh'.indexOf(m.square[0]) - 3.5) * sq, dy = m.y_mm - (m.square[1] - 4.5) * sq;
    return { m, dx, dy, off: Math.hypot(dx, dy) };
  }).filter((w) => w.off > 0.05 && w.off < sq / 2).sort((a, b) => b.off - a.off).slice(0, 5);
}

const heads = [['Piece', ''], ['x', 'From the centre of its square towards file h, mm'], ['y', 'From the centre of its square towards rank 8, mm'], ['σ', 'Standard deviation of the place that was measured, mm']];

function offsets(list) {
  const rows = list.map(({ m, dx, dy }) => make('tr', {}, make('th', { scope: 'row' }, `${m.square} ${pieceName(m.piece)}`), make('td', {}, signed(dx)), make('td', {}, signed(dy)), make('td', {}, m.sigma_mm ? m.sigma_mm.toFixed(1) : '–')));
  return make('table', { className: 'offsets' }, make('caption', {}, 'Farthest off centre, mm'),
    make('thead', {}, make('tr', {}, ...heads.map(([t, title]) => make('th', { scope: 'col', title }, t)))), make('tbody', {}, ...rows));
}
