/**
 * The copy of the log on this phone, as far as it was pulled. Mirrors spares/sync/phone.py and
 * store.py. Whatever a phone ever received it can bring back, so nothing is dropped from it but
 * what the skipper turned down.
 *
 * A copy is {rows, cursor, seen, epochs, latest, relay, rebuilt}: `rows` maps an id to
 * {envelope, seq}; `relay` are envelopes that the server may lack; `rebuilt` is a second copy that
 * is being pulled after a reset. `touched` names what is to be stored.
 */

import { parseEnvelope, sealed } from "./change.js";
import { stampUnsent } from "./stamp.js";

const MOST_RELAYED = 500;

/** Give a copy of nothing. */
export function newCopy() {
  return {
    rows: new Map(), cursor: null, seen: null, epochs: [], latest: "", relay: [], rebuilt: null,
    touched: nothing(),
  };
}

const nothing = () => ({ kept: new Set(), dropped: new Set(), isSwapped: false });

/** Tell what changed since it was last asked: ids kept and dropped, and whether all is another. */
export function touched(copy) {
  const told = copy.touched;
  copy.touched = nothing();
  return told;
}

/** Keep an envelope; one that comes with its row of the log is the truth. */
export function keep(copy, envelope, seq = null) {
  const known = copy.rows.get(envelope.id);
  if (known && seq === null) return;
  copy.rows.set(envelope.id, { envelope, seq });
  if (envelope.at > copy.latest) copy.latest = envelope.at;
  copy.touched.kept.add(envelope.id);
}

/** Forget an envelope that will not come into the log; one that is there stays. */
function drop(copy, id) {
  if (copy.rows.get(id)?.seq !== null) return;
  // Another map, as for a swap: whoever arranged the rows has to begin again.
  copy.rows = new Map([...copy.rows].filter(([one]) => one !== id));
  copy.touched.kept.delete(id);
  copy.touched.dropped.add(id);
}

/** How far this copy goes, for the next change. */
export const known = (copy) => ({ seen: copy.seen, after: copy.latest });

/** Give the envelopes to bring back with the next request. */
export const relayNext = (copy) => (copy.rebuilt ? [] : copy.relay.slice(0, MOST_RELAYED));

/** Do what an answer says about the log. */
export function takeIntoCopy(copy, request, answer) {
  const sent = new Map(request.ops.map((change) => [change.n, change]));
  for (const result of answer.results) {
    const change = sent.get(result.n);
    if (change?.id === result.id && (result.was ?? result.result) === "ok") {
      keep(copy, sealed(change, result.sealed), result.seq);
    }
  }
  takeRelayed(copy, request.relay, answer.relayed);
  if (answer.reset) copy.rebuilt = newCopy();
  takePage(copy, answer);
  if (!copy.rebuilt) relayNeeded(copy, answer);
}

/**
 * Bring again, in the next exchange, what waits for the skipper: it may be turned down, or lost as
 * the log was put back. One who has left (no cursor) hears nothing of it.
 */
export function bringAgain(copy, answer) {
  copy.relay = [];
  if (answer.cursor === null) return;
  for (const { envelope, seq } of copy.rows.values()) {
    if (seq === null && copy.relay.length < MOST_RELAYED) copy.relay.push(envelope);
  }
}

function takeRelayed(copy, brought, results) {
  copy.relay = copy.relay.slice(brought.length);
  results.forEach((result, place) => {
    if (result.was === "refused" || result.code === "not_allowed") drop(copy, brought[place].id);
  });
}

function takePage(copy, answer) {
  if (answer.cursor === null) {
    copy.rebuilt = null;        // one who has left gets no more of it, and still hands in
    return;
  }
  const atWork = copy.rebuilt ?? copy;
  for (const { seq, envelope } of answer.changes) keep(atWork, parseEnvelope(envelope), seq);
  if (!copy.rebuilt && !answer.reload) bringDisplaced(copy, answer);
  atWork.cursor = answer.cursor;
  atWork.seen = answer.seen;
  atWork.epochs = answer.epochs;
  if (copy.rebuilt && !answer.more) swap(copy);
}

/**
 * Bring back what the log has no more in its row: it was put back by hand to before it, and the
 * cursor is of before that.
 */
function bringDisplaced(copy, answer) {
  const [start, end] = [copy.seen?.seq ?? 0, answer.seen.seq];
  const there = new Map([...answer.changes.map((row) => [row.seq, row.envelope.id]),
    ...answer.results.map((result) => [result.seq, result.id])]);
  for (const [id, { envelope, seq }] of copy.rows) {
    if (seq === null || seq <= start || there.get(seq) === id || (seq > end && answer.more)) continue;
    copy.rows.set(id, { envelope, seq: null });
    copy.touched.kept.add(id);
    copy.relay.push(envelope);
  }
}

/** Take the new copy into use; what it lacks, or has with another stamp, is brought back. */
function swap(copy) {
  const { rebuilt, rows: old } = copy;
  copy.relay = [];
  for (const [id, { envelope }] of old) {
    const now = rebuilt.rows.get(id)?.envelope;
    if (!now || now.at !== envelope.at || now.mac !== envelope.mac) {
      copy.relay.push(envelope);
      keep(rebuilt, envelope);
    }
  }
  Object.assign(copy, rebuilt, { relay: copy.relay, rebuilt: null });
  copy.touched = { kept: new Set(rebuilt.rows.keys()), dropped: new Set(), isSwapped: true };
}

function relayNeeded(copy, answer) {
  if (!answer.need.length) return;
  const own = ownNumbers(copy, answer.dev);
  const there = new Set(copy.relay.map((envelope) => envelope.id));
  for (const [first, last] of answer.need) {
    for (let n = first; n <= last; n += 1) {
      const envelope = own.get(n);
      if (envelope && !there.has(envelope.id)) copy.relay.push(envelope);
    }
  }
}

/** Give a device's own envelopes in the copy, by number. */
export function ownNumbers(copy, dev) {
  const own = new Map();
  for (const { envelope } of copy.rows.values()) {
    if (envelope.dev === dev) own.set(envelope.n, envelope);
  }
  return own;
}

/**
 * Give what the folds need: the copy with all places in the log that are known, and what waits,
 * after all that its author had seen.
 */
export function entriesOf(copy, box = null, waiting = []) {
  const entries = [...copy.rows.keys()].map((id) => entryOf(copy, id));
  return box ? entries.concat(unsentEntries(copy, box, waiting)) : entries;
}

/** Give one row as the folds need it. */
export function entryOf(copy, id) {
  const { envelope, seq } = copy.rows.get(id);
  return seq === null ? envelope : { ...envelope, pos: places(envelope.pos, seq, copy.epochs) };
}

/** Give what waits as the folds need it, with stamps that hold until the log gives its own. */
export function unsentEntries(copy, box, waiting) {
  const unsent = waiting.filter((change) => !copy.rows.has(change.id));
  const stamps = stampUnsent(unsent, box.off_prev ?? 0, box.dev);
  return unsent.map((change, place) =>
    ({ g: 0, ...change, dev: box.dev, at: stamps[place], pos: {} }));
}

/** Give all places of a row: those under its seal, and its own in each epoch it is in. */
export function places(sealedPlaces, seq, epochs) {
  const found = { ...sealedPlaces };
  for (const [epoch, end] of epochs) if (end === null || seq <= end) found[epoch] = seq;
  return found;
}
