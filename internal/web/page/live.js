// The stream: keeps the newest state and tells what changed.

export const state = {};

// silence is how long the page hears nothing before it says so, ms: two of the
// beats that the server sends every second, and half of one for the way.
const silence = 2500;

// follow calls changed(keys, whole) after every event and lost(yes) when the
// machine cannot be reached or can be again.
export function follow(changed, lost) {
  let source, last = performance.now(), gone = false;
  const heard = () => { last = performance.now(); if (gone) { gone = false; lost(false); } };
  const open = () => {
    source = new EventSource('events');
    source.addEventListener('snapshot', (e) => {
      for (const k of Object.keys(state)) delete state[k];
      heard();
      take(JSON.parse(e.data), changed, true);
    });
    source.addEventListener('part', (e) => { heard(); take(JSON.parse(e.data), changed, false); });
    source.addEventListener('beat', heard);
    source.onerror = () => {
      if (!gone) { gone = true; lost(true); }
      // A refused stream is not tried again by the browser itself.
      if (source.readyState === EventSource.CLOSED) setTimeout(open, 2000);
    };
  };
  open();
  setInterval(() => {
    if (!gone && performance.now() - last > silence) { gone = true; lost(true); }
  }, 250);
}

function take(event, changed, whole) {
  const log = event.log;
  delete event.log;
  // A new game, or moves taken back: what belonged to the old end goes.
  if (event.moves && (!event.moves.length || event.moves.length < (state.moves || []).length)) { delete state.last_move; delete state.result; }
  // A carriage report without a motion ends the motion; the server says so with an empty one.
  if (event.motion) event.motion.began = performance.now() - 1000 * (event.motion.elapsed_s || 0);
  Object.assign(state, event);
  if (log) state.log = (whole ? [] : state.log || []).concat(log).slice(-300);
  changed(new Set(Object.keys(event).concat(log ? ['log'] : [])), whole);
}

// post sends one action; a refusal is thrown with the server's sentence.
export async function post(what, body) {
  let reply;
  try {
    reply = await fetch('api/' + what, {
      method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body || {}),
      signal: AbortSignal.timeout(5000),
    });
  } catch {
    throw new Error('I cannot reach the machine. It has its own switch.');
  }
  const said = await reply.json().catch(() => ({}));
  if (!reply.ok) throw new Error(said.error || `The machine answered ${reply.status}.`);
}
