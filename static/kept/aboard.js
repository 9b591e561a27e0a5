/** What lies aboard as this phone's copy tells it: documents, cells, and what things are called. */

import { normalise } from "../domain/codes.js";
import { dropUndone, keptNames, onePerId } from "../domain/book.js";
import { cellKey } from "../domain/movements.js";
import { fold } from "../domain/stock.js";
import { readDocument, settingsByDoc } from "../sync/merge.js";

const CODED = ["locker", "machine", "lot"];

/** Open a copy's entries; everything is worked out when it is first asked for. */
export function openAboard(entries) {
  const settings = settingsByDoc(entries);
  const values = new Map();
  const once = (work) => {
    let found;
    return () => (found ??= work());
  };
  const get = (name) => {
    if (!values.has(name)) {
      const found = settings.has(name) ? readDocument(settings.get(name)) : null;
      values.set(name, found && !found.gone ? { ref: name, ...found.values } : null);
    }
    return values.get(name);
  };
  const namesByKind = once(() => grouped(settings.keys(), kindOf));
  const all = (kind) => (namesByKind().get(kind) ?? []).map(get).filter(Boolean);
  const live = once(() => dropUndone(onePerId(entries)));
  const kept = once(() => keptNames(live().filter((entry) => entry.kind === "same")));
  const links = once(() => grouped(all("link"), (link) => link.part));
  const cellsByPart = once(() => {
    const cells = fold(entries);
    const there = new Set(cells.map(placeOf));
    const uncounted = all("lot").filter((lot) => lot.lies_in).map((lot) => ({
      part: lot.part, locker: lot.lies_in, lot: lot.ref, quantity: 0, low: 0, high: 0, doubts: [],
      rivals: [], flags: [], counted: false,
    })).filter((cell) => !there.has(placeOf(cell)));
    cells.sort((one, other) => (placeOf(one) < placeOf(other) ? -1 : 1));
    return grouped([...cells, ...uncounted], (cell) => cell.part);
  });
  return {
    get, all, live,
    entries,
    keptName: (part) => kept().get(part) ?? part,
    cellsOf: (part) => cellsByPart().get(part) ?? [],
    linksOf: (part) => links().get(part) ?? [],
    parts: () => [...cellsByPart().keys()],
    /** Give the one document of a kind that people call so: reference, id, code, number; or null. */
    named: (text, kind) => named({ get, all }, String(text).trim(), kind),
  };
}

const placeOf = ({ part, locker, lot }) => cellKey(part, locker, lot);

/** Give the kind of a reference `kind/uuid`. */
export const kindOf = (name) => name.slice(0, name.indexOf("/"));

/** Part items into lists by a key. */
export function grouped(items, keyOf) {
  const found = new Map();
  for (const item of items) {
    const key = keyOf(item);
    if (found.has(key)) found.get(key).push(item);
    else found.set(key, [item]);
  }
  return found;
}

function named({ get, all }, text, kind) {
  const direct = get(text.startsWith(`${kind}/`) ? text : `${kind}/${text.toLowerCase()}`);
  if (direct) return direct;
  const code = CODED.includes(kind) ? normalise(text) : null;
  const ways = [
    (one) => code && one.code === code,
    (one) => one.no?.toUpperCase() === text.toUpperCase(),
    (one) => kind === "part" && one.number === text,
  ];
  const known = all(kind);
  for (const way of ways) {
    const found = known.filter(way);
    if (found.length) return found.length === 1 ? found[0] : null;
  }
  return null;
}

/** Give a locker and what it lies in, from the inside out; a ring ends. */
function around(aboard, name) {
  const found = [];
  let locker = aboard.get(name);
  while (locker && !found.includes(locker)) {
    found.push(locker);
    locker = locker.parent ? aboard.get(locker.parent) : null;
  }
  return found;
}

/** Say whether a locker is aboard: neither it nor what it lies in is ashore or lent. */
export const isAboard = (aboard, locker) =>
  around(aboard, locker).every((one) => one.aboard !== false && !one.lent_to);

/** Say whether a locker can be got at under way, with all that it lies in. */
export const isReachable = (aboard, locker) =>
  around(aboard, locker).every((one) => one.reachable !== false);

/** Give condition and expiry of a lot; the plain lot is new and has no date. */
export function lotFacts(aboard, lot) {
  const record = lot ? aboard.get(lot) : null;
  return { condition: record?.condition || "new", expires: record?.expires || null };
}

/** Say whether pieces of a cell can be used on a day, wherever they fit. */
export function isUsable(aboard, cell, day) {
  const { condition, expires } = lotFacts(aboard, cell.lot);
  return isAboard(aboard, cell.locker) && condition !== "suspect"
    && (!expires || `${expires}-01-01`.slice(0, 10) >= day);
}

/** Order lots as they are to be used: usable, new before used, first out of date first. */
export function useFirst(aboard, cells, day) {
  const rank = (cell) => {
    const { condition, expires } = lotFacts(aboard, cell.lot);
    return [Number(!isUsable(aboard, cell, day)), Number(condition !== "new"), expires || "9999",
      cell.lot].join("\u001f");
  };
  return [...cells].sort((one, other) => (rank(one) < rank(other) ? -1 : Number(rank(one) > rank(other))));
}
