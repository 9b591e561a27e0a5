/**
 * What was made on this phone and is not yet known to be in the log: waiting, held for the
 * skipper, refused. Mirrors that side of spares/sync/phone.py. No change leaves it by time.
 *
 * A box is {dev, inst, made, off_prev, boot_prev, latest_t, stepped, gone, elsewhere, waiting, held,
 * refused}: `waiting` maps n to a change, `held` an id to a change, `refused` an id to {change, code,
 * say}; `elsewhere` a number to the id of what is in the log under another.
 */

import { BODY_VERSION } from "./bodies.js";
import { parseChange } from "./change.js";
import { ownNumbers } from "./copy.js";

/** Give an empty box of a phone that was just paired. */
export function newBox(dev, inst) {
  return {
    dev, inst, made: 0, off_prev: null, boot_prev: null, latest_t: -Number.MAX_SAFE_INTEGER,
    stepped: false, gone: [], elsewhere: {}, waiting: new Map(), held: new Map(), refused: new Map(),
  };
}

/** Notice whether the phone's own clock went back [ms]. */
export function lookAtClock(box, clockMs) {
  box.stepped ||= clockMs < box.latest_t;
  box.latest_t = Math.max(box.latest_t, clockMs);
}

/**
 * Put a change in under the next number; throws `Refused` if no server would take it.
 * `known` is how far the copy goes: {seen, after}.
 */
export function putIn(box, { id, kind, body }, known, clockMs) {
  const change = parseChange({
    id, n: box.made + 1, kind, v: BODY_VERSION, t: clockMs, seen: known.seen, after: known.after,
    body,
  });
  lookAtClock(box, clockMs);
  box.made = change.n;
  box.waiting.set(change.n, change);
  return change;
}

/** Give what waits, in the order of its numbers. */
export const waitingInOrder = (box) =>
  [...box.waiting.keys()].sort((one, other) => one - other).map((n) => box.waiting.get(n));

const asTapped = (changes) => [...changes].sort((one, other) =>
  (one.after > other.after) - (one.after < other.after) || one.t - other.t || one.n - other.n);

/**
 * Go on under the number that the server gave; all that is not in the log is numbered anew. Also
 * what waits for the skipper: asked about later, when a log put back forgot it, it would stand
 * behind what the same hand made next, as if it had seen that.
 */
export function renumber(box, { dev, next_n }) {
  const unsent = waitingInOrder(box);
  // What was sent before, asked about again or not, was tapped before what never was.
  const numbered = new Set(Object.values(box.elsewhere));
  const sent = new Map([...unsent.filter(({ id }) => numbered.has(id)), ...box.held.values()]
    .map((change) => [change.id, change]));
  const waiting = [...asTapped(sent.values()), ...unsent.filter(({ id }) => !sent.has(id))];
  Object.assign(box, { dev, made: next_n - 1, waiting: new Map(), elsewhere: {}, gone: [] });
  box.held.clear();
  for (const change of waiting) {
    box.made += 1;
    box.waiting.set(box.made, { ...change, n: box.made });
  }
}

/** Send again all that waits for the skipper: one who has left is told nothing else. */
export function askAboutAllHeld(box) {
  const waiting = new Set([...box.waiting.values()].map(({ id }) => id));
  for (const change of asTapped([...box.held.values()].filter(({ id }) => !waiting.has(id)))) {
    box.made += 1;
    box.waiting.set(box.made, { ...change, n: box.made });
  }
  box.held.clear();
}

/** Do what an answer says about the changes of this phone; `copy` has taken its part before. */
export function takeIntoBox(box, copy, request, answer) {
  const isRenumbered = answer.dev !== box.dev;
  if (answer.clock === "doubt") {
    for (const [n, change] of box.waiting) box.waiting.set(n, { ...change, g: 1 });
  }
  takeResults(box, answer);
  box.gone = box.gone.slice(request.gone.length);
  if (isRenumbered) renumber(box, answer);
  // After a new number `need` is about numbers that are no longer its own.
  if (!copy.rebuilt && !isRenumbered) giveNeeded(box, copy, answer.need);
  askAboutHeld(box, copy, answer);
  return isRenumbered;
}

/** Keep what the next requests need of a completed sync. */
export function complete(box, request, answer) {
  box.off_prev = request.now - answer.now;
  box.boot_prev = answer.boot;
  box.stepped = false;
  box.latest_t = request.now;
}

function takeResults(box, { dev, results }) {
  for (const result of results) {
    const change = box.waiting.get(result.n);
    if (!change || change.id !== result.id) continue;
    const outcome = result.was ?? result.result;
    if (outcome !== "ok" || result.sealed.dev !== dev || result.sealed.n !== change.n) {
      box.elsewhere = { ...box.elsewhere, [change.n]: change.id };
    }
    if (outcome === "refused") {
      box.refused.set(change.id, { change, code: result.code, say: result.say });
    } else if (outcome !== "ok") box.held.set(change.id, change);
    box.waiting.delete(change.n);
  }
}

/** Find a change that stood under one of its numbers, as it was made. */
function found(box, copy, ident) {
  if (copy.rows.has(ident)) {
    const { id, kind, v, t, seen, after, body } = copy.rows.get(ident).envelope;
    return { id, kind, v, t, seen, after, body };
  }
  return box.held.get(ident) ?? box.refused.get(ident)?.change
    ?? [...box.waiting.values()].find(({ id }) => id === ident);
}

/** Answer for numbers that the server lacks and that the copy has not: made again, or lost. */
function giveNeeded(box, copy, need) {
  const own = need.length ? ownNumbers(copy, box.dev) : new Map();
  const brought = copy.relay.filter(({ dev }) => dev === box.dev).map(({ n, id }) => [n, id]);
  for (const [n] of brought) own.set(n, null);
  // What is brought back may come to stand there under another number, for good.
  if (brought.length) box.elsewhere = { ...box.elsewhere, ...Object.fromEntries(brought) };
  // A number can stand for two, one of an earlier device number: what waits goes first.
  const decided = new Map([...[...box.refused.values()].map((one) => one.change),
    ...box.held.values()].map((change) => [change.n, change]));
  for (const [first, last] of need) {
    for (let n = first; n <= last; n += 1) {
      if (box.waiting.has(n) || own.has(n)) continue;
      // The server was put back to before it decided: it decides again.
      if (decided.has(n)) {
        box.waiting.set(n, decided.get(n));
        box.refused.delete(decided.get(n).id);
        continue;
      }
      const made = found(box, copy, box.elsewhere[n]);
      if (made) {
        box.waiting.set(n, { ...made, n });
        box.refused.delete(made.id);
        // First in its envelope: said anew it could hold below what it had seen.
        const sealed = copy.rows.get(made.id)?.envelope;
        if (sealed && !copy.relay.includes(sealed)) copy.relay.push(sealed);
      } else box.gone.push([n, n]);
    }
  }
}

/**
 * Ask again about what waits for the skipper no longer: it was decided, or a log that was put back
 * forgot it. The answer to the change itself says what became of it.
 */
function askAboutHeld(box, copy, answer) {
  const still = new Set(answer.held);
  for (const [id, { change, code }] of [...box.refused]) {
    // A log that was put back forgot the refusal: told of it still, a person makes it anew.
    if (code !== "id_reused" && (still.has(id) || copy.rows.has(id))
      || code === "rejected" && answer.reset) {
      box.refused.delete(id);
      box.held.set(id, change);
    }
  }
  const justTold = new Set(answer.results.map((result) => result.id));
  const waiting = new Set([...box.waiting.values()].map((change) => change.id));
  for (const change of asTapped(box.held.values())) {
    const { id } = change;
    if (still.has(id)) continue;
    if (copy.rows.has(id) || waiting.has(id)) box.held.delete(id);
    else if (!answer.more && !copy.rebuilt && !justTold.has(id)) {
      box.held.delete(id);
      box.made += 1;
      box.waiting.set(box.made, { ...change, n: box.made });
    }
  }
}
