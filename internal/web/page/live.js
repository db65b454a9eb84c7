// The stream: keeps the newest state and tells what changed.

export const state = {};

// follow calls changed(keys, whole) after every event and lost(yes) when the
// stream breaks or comes back.
export function follow(changed, lost) {
  const source = new EventSource('events');
  source.addEventListener('snapshot', (e) => {
    for (const k of Object.keys(state)) delete state[k];
    lost(false);
    take(JSON.parse(e.data), changed, true);
  });
  source.addEventListener('part', (e) => take(JSON.parse(e.data), changed, false));
  source.onerror = () => {
    lost(true);
    // A refused stream is not tried again by the browser itself.
    if (source.readyState === EventSource.CLOSED) setTimeout(() => follow(changed, lost), 2000);
  };
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
    });
  } catch {
    throw new Error('The table cannot be reached. Is the program still running?');
  }
  const said = await reply.json().catch(() => ({}));
  if (!reply.ok) throw new Error(said.error || `The table answered ${reply.status}.`);
}
