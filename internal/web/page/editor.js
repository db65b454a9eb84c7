// A position set up by hand: choose a piece, then the squares it stands on.
import { make } from './words.js';
import { files } from './sheet.js';

// makeEditor begins with a position; fen() gives what has become of it.
export function makeEditor(fen, side, name) {
  const editor = { board: boardOf(fen), rest: fen.split(' ').slice(1), chosen: '' };
  const field = make('input', { type: 'text', id: 'fenfield', spellcheck: false, autocomplete: 'off', value: fen });
  field.addEventListener('change', () => { editor.board = boardOf(field.value); editor.rest = field.value.trim().split(/\s+/).slice(1); show(); });
  const turn = make('select', { id: 'turnfield' }, make('option', { value: 'w' }, 'White'), make('option', { value: 'b' }, 'Black'));
  turn.addEventListener('change', () => { editor.rest[0] = turn.value; write(); });
  const squares = new Map(), box = make('div', { className: 'squares' });
  for (const r of side === 'black' ? [1, 2, 3, 4, 5, 6, 7, 8] : [8, 7, 6, 5, 4, 3, 2, 1]) {
    for (const f of side === 'black' ? [...files].reverse() : files) {
      const square = f + r, dark = (files.indexOf(f) + r) % 2 === 1;
      const b = make('button', { type: 'button', className: dark ? 'sq shaded' : 'sq', onclick: () => put(square) });
      squares.set(square, b);
      box.append(b);
    }
  }
  const palette = make('div', { className: 'palette', role: 'radiogroup', ariaLabel: 'Piece to be put' });
  for (const p of [...'KQRBNPkqrbnp', '']) {
    const b = make('button', { type: 'button', role: 'radio', onclick: () => { editor.chosen = p; show(); } }, disc(p));
    b.setAttribute('aria-label', p ? name(p) : 'empty the square');
    b.dataset.piece = p;
    palette.append(b);
  }
  function put(square) {
    if (editor.board.get(square) === editor.chosen || !editor.chosen) editor.board.delete(square);
    else editor.board.set(square, editor.chosen);
    write();
  }
  // write puts the board into the field; castling and en passant are only
  // kept as far as the field says so.
  function write() {
    field.value = [placement(editor.board), editor.rest[0] || 'w', rights(editor.board, editor.rest[1]), '-', '0', editor.rest[4] || '1'].join(' ');
    show();
  }
  function show() {
    for (const [square, b] of squares) {
      const p = editor.board.get(square);
      b.replaceChildren(...(p ? [disc(p)] : []));
      b.setAttribute('aria-label', `${square}, ${p ? name(p) : 'empty'}`);
    }
    for (const b of palette.children) b.setAttribute('aria-checked', b.dataset.piece === editor.chosen);
    turn.value = editor.rest[0] === 'b' ? 'b' : 'w';
  }
  show();
  editor.fen = () => field.value.trim();
  editor.parts = [palette, box,
    make('p', {}, make('label', { htmlFor: 'turnfield' }, 'To move: '), turn),
    make('p', {}, make('label', { htmlFor: 'fenfield' }, 'The same as FEN'), field)];
  return editor;
}

const disc = (p) => make('span', { className: !p ? 'disc none' : p === p.toUpperCase() ? 'disc' : 'disc filled', ariaHidden: 'true' }, p ? p.toUpperCase() : '×');

// rights are those of the old ones whose king and rook still stand at home.
function rights(board, old = '-') {
  const home = { K: 'h1', Q: 'a1', k: 'h8', q: 'a8' };
  const kept = [...old].filter((c) => home[c] && (c < 'a'
    ? board.get('e1') === 'K' && board.get(home[c]) === 'R' : board.get('e8') === 'k' && board.get(home[c]) === 'r'));
  return kept.join('') || '-';
}

// boardOf reads the first field of an FEN as far as it goes.
function boardOf(fen) {
  const board = new Map();
  fen.trim().split(/\s+/)[0].split('/').slice(0, 8).forEach((row, i) => {
    let f = 0;
    for (const c of row) {
      if (/[1-8]/.test(c)) f += Number(c);
      else { if (f < 8 && /[KQRBNPkqrbnp]/.test(c)) board.set(files[f] + (8 - i), c); f++; }
    }
  });
  return board;
}

function placement(board) {
  const rows = [];
  for (let r = 8; r >= 1; r--) {
    let row = '', empty = 0;
    for (const f of files) {
      const p = board.get(f + r);
      if (!p) { empty++; continue; }
      row += (empty || '') + p;
      empty = 0;
    }
    rows.push(row + (empty || ''));
  }
  return rows.join('/');
}
