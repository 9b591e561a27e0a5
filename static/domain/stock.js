/**
 * How many are there: the fold of all recorded movements and counts.
 * Mirrors spares/domain/stock.py.
 *
 * A pure function of the set of entries. The newest count of a cell holds, later movements add to
 * it, earlier ones are contained in it. Where two people wrote without knowing of each other and
 * the clocks cannot tell which came first, the quantity has a range.
 */

import { namesKnownTo, openBook, pairKey } from "./book.js";
import { areConcurrent } from "./movements.js";

/** Stamps of two devices closer than this cannot say which came first [ms]. */
const DOUBT_MS = 15 * 60_000;

const byStamp = (one, other) =>
  (one.entry.at < other.entry.at ? -1 : Number(one.entry.at > other.entry.at));
const timeMs = (at) => parseInt(at.split(".", 1)[0], 16);

/**
 * Work out every cell from scratch.
 * @returns {{part, locker, lot, quantity, low, high, doubts, rivals, flags}[]} [thousandths]
 */
export function fold(entries) {
  const book = openBook(entries);
  return [...book.cells.values()].map(({ part, locker, lot, events }) =>
    ({ part, locker, lot, ...cellOf(book, events) }));
}

/** Name the count against which a movement of a cell is in doubt, null if it is not. */
export function countAskedAbout(entries, { part, locker, lot }, change) {
  const book = openBook(entries);
  const cell = [...book.cells.values()].find((one) => one.part === part && one.locker === locker && one.lot === lot);
  for (const pile of cell ? pilesOf(book, cell.events) : []) {
    const base = lastCount(pile);
    if (base && pile.some((event) => event.entry.id === change && isDoubtful(book, event, base))) return base.entry.id;
  }
  return null;
}

function cellOf(book, events) {
  const found = pilesOf(book, events).map((pile) => pileOf(book, pile));
  const sum = (name) => found.reduce((total, cell) => total + cell[name], 0);
  const all = (name) => [...new Set(found.flatMap((cell) => cell[name]))];
  const quantity = sum("quantity");
  return {
    quantity, low: sum("low"), high: sum("high"), doubts: all("doubts"), rivals: all("rivals"),
    flags: quantity < 0 ? ["negative"] : [],
  };
}

function pileOf(book, events) {
  const base = lastCount(events);
  let { quantity, low, high } = rangeOf(book, events, base);
  if (!base) return { quantity, low, high, doubts: [], rivals: [] };
  const rivals = events.filter((event) => isRival(book, events, event, base));
  for (const rival of rivals) {
    if (!isOrderUnknown(rival, base)) continue;
    const other = rangeOf(book, events, rival);
    low = Math.min(low, other.low);
    high = Math.max(high, other.high);
  }
  const doubts = events.filter((event) => isDoubtful(book, event, base));
  const ids = (list) => list.map((event) => event.entry.id);
  return { quantity, low, high, doubts: ids(doubts), rivals: ids(rivals) };
}

/**
 * Part the events of a merged part into piles that were counted apart: a count made before
 * anybody said that two parts are the same is about the pieces under its own name.
 */
function pilesOf(book, events) {
  const inOrder = [...events].sort(byStamp);
  const names = new Set(events.map((event) => event.part));
  if (names.size <= 1) return [inOrder];
  const groups = new Map([...names].map((name) => [name, new Set([name])]));
  for (const event of events) {
    if (event.count === null) continue;
    const covered = [...namesKnownTo(book, event.entry, event.part)];
    const together = new Set(covered.flatMap((name) => [...(groups.get(name) ?? [])]));
    for (const name of together) groups.set(name, together);
  }
  const piles = new Map();
  for (const event of inOrder) {
    const first = [...groups.get(event.part)].sort()[0];
    if (!piles.has(first)) piles.set(first, []);
    piles.get(first).push(event);
  }
  return [...piles.keys()].sort().map((name) => piles.get(name));
}

/** Give quantity, low, high as they are if `base` was the last count. */
function rangeOf(book, events, base) {
  let quantity = base ? base.count : 0;
  let lower = 0;
  let higher = 0;
  for (const event of events) {
    if (event.delta === null) continue;
    const onTop = !base || isOnTop(book, event, base);
    if (onTop) quantity += event.delta;
    if (!base || !isDoubtful(book, event, base)) continue;
    const shift = onTop ? -event.delta : event.delta;
    if (shift < 0) lower += shift;
    else higher += shift;
  }
  return { quantity, low: quantity + lower, high: quantity + higher };
}

function isDoubtful(book, event, base) {
  return event.delta !== null && isOrderUnknown(event, base)
    && !book.settled.has(pairKey(event.entry.id, base.entry.id));
}

function isRival(book, events, other, base) {
  if (other.count === null || other === base) return false;
  if (!areConcurrent(other.entry, base.entry)) return false;
  const between = events.reduce((sum, event) => (event.delta !== null
    && isOnTop(book, event, other) && !isOnTop(book, event, base) ? sum + event.delta : sum), 0);
  return other.count + between !== base.count;
}

function isOrderUnknown(one, other) {
  if (!areConcurrent(one.entry, other.entry)) return false;
  const apartMs = Math.abs(timeMs(one.entry.at) - timeMs(other.entry.at));
  return apartMs <= DOUBT_MS || one.entry.g === 1 || other.entry.g === 1;
}

/** Say whether a movement comes on top of a count, or is contained in it. */
function isOnTop(book, event, base) {
  const side = book.settled.get(pairKey(event.entry.id, base.entry.id));
  return side === undefined ? event.entry.at > base.entry.at : side === "after";
}

function lastCount(events) {
  return events.reduce((last, event) => (event.count !== null
    && (!last || event.entry.at > last.entry.at) ? event : last), null);
}
