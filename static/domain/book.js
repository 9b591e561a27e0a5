/**
 * The entries made ready for counting. Mirrors spares/domain/book.py.
 *
 * One entry for each id, with the stamp that holds; those that were undone are out; parts that
 * were found to be the same stand under one name; answered doubts are at hand.
 */

import { cellKey, effects, saw } from "./movements.js";

const byStamp = (one, other) => (one.at < other.at ? -1 : Number(one.at > other.at));

/** Write the pair of a movement and a count as one text. */
export const pairKey = (of, count) => `${of} ${count}`;

/**
 * Make entries ready for counting.
 * @returns {{cells: Map, settled: Map, sames: object[]}} cells: key to {part, locker, lot, events}
 */
export function openBook(entries) {
  const live = dropUndone(onePerId(entries));
  const sames = live.filter((entry) => entry.kind === "same");
  const kept = keptNames(sames);
  const cells = new Map();
  for (const entry of live) {
    for (const effect of effects(entry)) {
      const part = kept.get(effect.part) ?? effect.part;
      const key = cellKey(part, effect.locker, effect.lot);
      if (!cells.has(key)) {
        cells.set(key, { part, locker: effect.locker, lot: effect.lot, events: [] });
      }
      cells.get(key).events.push({ entry, part: effect.part, delta: effect.delta, count: effect.count });
    }
  }
  const settles = live.filter((entry) => entry.kind === "settle").sort(byStamp);
  const settled = new Map(settles.map(({ body }) => [pairKey(body.of, body.count), body.side]));
  return { cells, settled, sames };
}

/** Give the names that an author knew to mean a part. */
export function namesKnownTo(book, entry, part) {
  const groups = groupParts(book.sames.filter((same) => saw(entry, same)));
  return groups.get(part) ?? new Set([part]);
}

/** Keep one entry for each id, with the stamp that holds. */
export function onePerId(entries) {
  const found = new Map();
  const restamps = [];
  for (const entry of entries) {
    if (entry.kind === "restamp") restamps.push(entry);
    const twin = found.get(entry.id);
    found.set(entry.id, twin ? joined(entry, twin) : entry);
  }
  restamps.sort((one, other) => (one.body.at < other.body.at ? -1
    : Number(one.body.at > other.body.at)) || (one.body.g ?? 0) - (other.body.g ?? 0));
  for (const restamp of restamps) {
    const named = found.get(restamp.body.of);
    if (named) found.set(named.id, restamped(named, restamp));
  }
  return [...found.values()];
}

/** Leave out what was undone. An undoing cannot itself be undone. */
export function dropUndone(entries) {
  const undone = new Set(entries.filter((one) => one.kind === "void").map((one) => one.body.of));
  return entries.filter((entry) => entry.kind !== "void" && !undone.has(entry.id));
}

/** Map each merged part to the name that its group goes by: the `keep` of its latest `same`. */
export function keptNames(sames) {
  const inOrder = [...sames].sort(byStamp);
  const groups = groupParts(inOrder);
  const kept = new Map();
  for (const { body } of inOrder) {
    for (const part of groups.get(body.keep)) kept.set(part, body.keep);
  }
  return kept;
}

/** Map each merged part to its whole group. */
export function groupParts(sames) {
  const groups = new Map();
  for (const { body: { keep, drop } } of sames) {
    const together = new Set([...(groups.get(keep) ?? [keep]), ...(groups.get(drop) ?? [drop])]);
    for (const part of together) groups.set(part, together);
  }
  return groups;
}

function joined(one, other) {
  const order = byStamp(one, other) || (one.dev < other.dev ? -1 : Number(one.dev > other.dev))
    || one.n - other.n || one.g - other.g;
  return { ...(order <= 0 ? one : other), pos: bothPlaces(one.pos, other.pos) };
}

function restamped(entry, { body }) {
  const pos = bothPlaces(entry.pos, body.pos ?? {});
  return body.at >= entry.at ? { ...entry, pos }
    : { ...entry, at: body.at, g: body.g ?? entry.g, pos };
}

function bothPlaces(one, other) {
  // Two places in one epoch: the later one claims less to have been seen.
  const places = { ...one };
  for (const [epoch, seq] of Object.entries(other)) {
    places[epoch] = Math.max(places[epoch] ?? 0, seq);
  }
  return places;
}
