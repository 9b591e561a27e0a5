/**
 * One request of a phone and what it does with the answer. Mirrors spares/sync/phone.py; the
 * rules are told in spares/sync/PROTOCOL.md. The copy is brought up first and stored, only then
 * does a change leave the box: a page that dies in between sends it again, which costs nothing.
 */

import { complete, lookAtClock, renumber, takeIntoBox, waitingInOrder } from "./box.js";
import { bringAgain, relayNext } from "./copy.js";

export { takeIntoCopy } from "./copy.js";

export const PROTO = 1;
export const SCHEMA = 1;
export const MOST_CHANGES = 500;
const MOST_WANTED = 1000;
/** A request must stay below 1 MiB; changes and envelopes are cut at about this size [bytes]. */
export const MOST_BYTES = 700_000;

/**
 * Write the next request [clock in ms]; new changes wait while the copy is made anew. Over a poor
 * net *most* is less: as many bytes as it carries in time, and rows in the same measure.
 */
export function writeRequest(box, copy, vessel, clockMs, most = MOST_BYTES) {
  lookAtClock(box, clockMs);
  const atWork = copy.rebuilt ?? copy;
  const relay = fitting(relayNext(copy), most);
  const ops = copy.rebuilt || relay.length ? [] : waitingInOrder(box).slice(0, MOST_CHANGES);
  return {
    proto: PROTO, schema: SCHEMA, vessel, dev: box.dev, inst: box.inst, cursor: atWork.cursor,
    now: clockMs, off_prev: box.off_prev, boot_prev: box.boot_prev, stepped: box.stepped,
    last: box.made, ops: fitting(ops, most), relay, gone: box.gone.slice(0, MOST_CHANGES),
    want: Math.ceil((MOST_WANTED * most) / MOST_BYTES),
  };
}

/**
 * Do what an answer says about the box, after `takeIntoCopy`; `fresh` makes a text for a new inst.
 * @returns {boolean} whether there is more to exchange at once
 */
export function takeAnswer(box, copy, request, answer, fresh) {
  if (answer.stop === "fork") {
    box.inst = fresh();
    renumber(box, answer);
    return true;
  }
  const isRenumbered = takeIntoBox(box, copy, request, answer);
  const mayGoOn = isRenumbered || answer.reset || answer.results.length > 0;
  const isUnsent = box.waiting.size > 0 && (mayGoOn || !request.ops.length);
  const isBusy = Boolean(answer.more || copy.rebuilt || copy.relay.length || box.gone.length
    || isUnsent);
  if (!isBusy) {
    complete(box, request, answer);
    bringAgain(copy, answer);
  }
  return isBusy;
}

/** Give as much of a list as *most* bytes hold, at least one. */
export function fitting(list, most) {
  const encoder = new TextEncoder();
  let size = 0;
  const end = list.findIndex((one, place) => {
    size += encoder.encode(JSON.stringify(one)).length;
    return place > 0 && size > most;
  });
  return end < 0 ? list : list.slice(0, end);
}
