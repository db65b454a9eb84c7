// What the maker's pages have in common: the newest picture, and the log.
import { state } from './live.js';
import { $, make } from './words.js';

// showPicture loads the newest picture and tells its size; while one loads, the next waits.
let loading = false, wanted = 0;
export function showPicture(sized) {
  wanted = state.picture;
  if (loading || !wanted) return;
  loading = true;
  const shown = wanted, next = new Image();
  next.onload = next.onerror = () => {
    loading = false;
    if (next.naturalWidth) {
      $('picture').src = next.src;
      $('picture').hidden = false;
      $('blank').hidden = true;
      $('number').textContent = shown;
      if (sized) sized(next.naturalWidth, next.naturalHeight);
    }
    if (wanted !== shown) showPicture(sized);
  };
  next.src = 'picture?n=' + shown;
}

const clock = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', second: '2-digit' });

export function showLog() {
  const lines = (state.log || []).slice().reverse();
  $('log').replaceChildren(...lines.map((l) => make('li', { className: l.kind || '' }, make('time', {}, clock.format(new Date(l.at))), make('span', {}, l.text))));
}
