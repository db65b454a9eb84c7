// How strongly the machine plays: drawing tools, the finer the line, the stronger.
import { state } from './live.js';
import { $, make, draw } from './words.js';
import { tryTo } from './parts.js';

// showStrength draws a line of each tool; the one in use is boxed.
export function showStrength() {
  const s = state.strength || {}, ladder = s.ladder || [], now = ladder.find((r) => r.name === s.now);
  $('strength').hidden = !now;
  if (!now) return;
  $('rung').textContent = now.name;
  $('suits').textContent = `: for ${now.for}`;
  if ($('ladder').children.length !== ladder.length) $('ladder').replaceChildren(...ladder.map((r, i) => rung(r, i, ladder.length)));
  $('strength').disabled = !(state.offers || []).some((o) => o.request.for === 'strength');
  for (const e of $('ladder').querySelectorAll('input')) e.checked = e.value === s.now;
}

function rung(r, i, of) {
  const box = make('input', { type: 'radio', name: 'rung', value: r.name });
  box.setAttribute('aria-label', `${r.name}, strength ${i + 1} of ${of}, for ${r.for}`);
  box.addEventListener('change', () => tryTo('request', { for: 'strength', strength: r.name }).catch(showStrength));
  const width = 13 * (0.8 / 13) ** (i / (of - 1)); // px, from chalk to a hairline in even ratios
  const line = draw('svg', { viewBox: '0 0 40 44', 'aria-hidden': 'true' }, draw('line', { x1: 10, y1: 34, x2: 30, y2: 10, 'stroke-width': width.toFixed(2) }));
  return make('label', { title: `${r.name}: for ${r.for}` }, box, line);
}
