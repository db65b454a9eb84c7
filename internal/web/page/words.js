// Words and small makers that all sheets share.

export const $ = (id) => document.getElementById(id);

const kinds = { K: 'king', Q: 'queen', R: 'rook', B: 'bishop', N: 'knight', P: 'pawn' };
export const kindName = (letter) => kinds[letter.toUpperCase()] || letter;
export const isWhite = (letter) => letter === letter.toUpperCase();
export const pieceName = (letter) => (isWhite(letter) ? 'white ' : 'black ') + kindName(letter);

const svgNS = 'http://www.w3.org/2000/svg';

// draw makes an SVG element with attributes and children.
export function draw(tag, attributes, ...children) {
  const e = document.createElementNS(svgNS, tag);
  for (const [k, v] of Object.entries(attributes || {})) if (v !== undefined) e.setAttribute(k, v);
  e.append(...children);
  return e;
}

// make makes an HTML element with properties and children.
export function make(tag, properties, ...children) {
  const e = Object.assign(document.createElement(tag), properties || {});
  e.append(...children);
  return e;
}

export const calm = matchMedia('(prefers-reduced-motion: reduce)');
export const narrow = matchMedia('(max-width: 900px), (max-width: 1100px) and (orientation: portrait)');

// signed prints a length as on a drawing: +1.2 or −0.4.
export const signed = (v, digits = 1) => (v < 0 ? '−' : '+') + Math.abs(v).toFixed(digits);

// sentence begins with a capital and ends with a full stop.
export const sentence = (text) => text ? text[0].toUpperCase() + text.slice(1) + (/[.!?]$/.test(text) ? '' : '.') : '';
