/** What lies aboard as this phone's copy tells it: documents, cells, and what things are called. */

import { dropUndone, groupParts, keptNames, onePerId } from "../domain/book.js";
import { normalise } from "../domain/codes.js";
import { cellKey, effects } from "../domain/movements.js";
import { fold } from "../domain/stock.js";
import { readDocument, versionsOf } from "../sync/merge.js";
import { addEntry, entriesOfIds, isGeneral, kindOf, newIndex } from "./log-index.js";

const CODED = ["locker", "machine", "lot"];

export { kindOf };

/** Arrange entries that are all there already. */
export function indexOf(entries) {
  const index = newIndex();
  for (const entry of entries) addEntry(index, entry);
  return index;
}

/**
 * Open the log of this phone's copy with what waits beside it. Everything is worked out when it is
 * first asked for, a part's cells from the entries that concern it alone.
 */
export function openAboard(index, waiting = []) {
  const once = (work) => {
    let found;
    return () => (found ??= work());
  };
  const general = [...entriesOfIds(index, index.general), ...waiting.filter(isGeneral)];
  const sames = once(() => dropUndone(onePerId(general)).filter((entry) => entry.kind === "same"));
  const groups = once(() => groupParts(sames()));
  const kept = once(() => keptNames(sames()));
  const keptName = (part) => kept().get(part) ?? part;
  const unsent = once(() => grouped(waiting.filter((entry) => entry.kind === "set"), (entry) => entry.body.doc));
  const fresh = new Map();
  const record = (name) => {
    if (!unsent().has(name)) return documentOf(index, name);
    if (!fresh.has(name)) fresh.set(name, read(name, settingsOf(index, name, unsent().get(name))));
    return fresh.get(name);
  };
  const get = (name) => {
    const found = record(name);
    return found?.gone ? null : found;
  };
  const unsentOf = (kind) => [...unsent().keys()].filter((name) => kindOf(name) === kind);
  const names = (kind) => [...new Set([...(index.byKind.get(kind) ?? []), ...unsentOf(kind)])];
  const all = (kind) => names(kind).map(get).filter(Boolean);
  const lotsOf = once(() => grouped(all("lot").filter((lot) => lot.lies_in), (lot) => lot.part));
  const waitingOf = once(() => byPart(waiting));
  const numbers = once(() => grouped(all("number"), (one) => keptName(one.part)));
  const cells = new Map();
  const cellsOf = (part) => {
    if (!cells.has(part)) {
      const own = [...(groups().get(part) ?? [part])].flatMap((name) =>
        [...entriesOfIds(index, index.byPart.get(name)), ...(waitingOf().get(name) ?? [])]);
      cells.set(part, withUncounted(fold([...own, ...general]).filter((cell) => cell.part === part),
        lotsOf().get(part) ?? []));
    }
    return cells.get(part);
  };
  const touched = once(() => waiting.flatMap((entry) => effects(entry)));
  const entries = once(() => [...index.entries.values(), ...waiting]);
  return {
    index, get, all, keptName, cellsOf, entries,
    /** Give a document also when it was taken off the books; it then says `gone`. */
    record,
    /** Give the versions of each field of a document, by field. */
    versions: (name) => versionsOf(settingsOf(index, name, unsent().get(name))),
    /** Give the numbers that things of a kind bear or bore. */
    everNumbered: (kind) => names(kind).map((name) => record(name)?.no).filter(Boolean),
    /** Give the documents of a kind, those off the books too. */
    ever: (kind) => names(kind).map(record).filter(Boolean),
    /** Give the exchanges at a fit point that stand. */
    exchangesAt: (point) => dropUndone(onePerId([...entriesOfIds(index, index.exchanges.get(point)), ...general,
      ...waiting])).filter((entry) => entry.kind === "exchange" && entry.body.point === point),
    /** Give the vessel's own id. */
    vessel: once(() => all("vessel")[0].ref.slice("vessel/".length)),
    live: once(() => dropUndone(onePerId(entries()))),
    linksOf: (part) => linksOf(index, all).get(part) ?? [],
    /** Give the further numbers of a part, those that were written here among them. */
    numbersOf: (part) => (numbers().get(part) ?? []).map(({ maker = null, number, what }) => ({ maker, number, what: what ?? "cross" })),
    /** Name the parts that were found to be another one and go by its name. */
    merged: () => [...kept()].filter(([part, name]) => part !== name).map(([part]) => part),
    /** Name the documents of a kind about which something waits on this phone. */
    unsentOf,
    /** Name the parts that ever lay in a locker. */
    partsIn: (locker) => new Set([...(index.partsIn.get(locker) ?? []),
      ...touched().filter((one) => one.locker === locker).map((one) => one.part)].map(keptName)),
    /** Give the one document of a kind that people call so: reference, id, code, number; or null. */
    named: (text, kind) => named({ get, all }, String(text).trim(), kind),
  };
}

function settingsOf(index, name, unsent = []) {
  const own = entriesOfIds(index, index.settings.get(name));
  const general = entriesOfIds(index, index.general).filter((entry) => entry.kind === "restamp");
  return onePerId([...own, ...general, ...unsent]).filter((entry) => entry.kind === "set");
}

function read(name, settings) {
  const found = readDocument(settings);
  return found && { ref: name, ...found.values, ...(found.gone ? { gone: true } : {}) };
}

function documentOf(index, name) {
  if (!index.documents.has(name)) {
    const isKnown = index.settings.has(name);
    index.documents.set(name, isKnown ? read(name, settingsOf(index, name)) : null);
  }
  return index.documents.get(name);
}

const links = { index: null, version: -1, byPart: null };

function linksOf(index, all) {
  if (links.index !== index || links.version !== index.version) {
    Object.assign(links, { index, version: index.version, byPart: grouped(all("link"), (link) => link.part) });
  }
  return links.byPart;
}

/** Part entries by the parts that they move or count. */
function byPart(entries) {
  const found = new Map();
  for (const entry of entries) {
    for (const { part } of effects(entry)) {
      if (!found.has(part)) found.set(part, new Set());
      found.get(part).add(entry);
    }
  }
  return found;
}

/** Add the lots that are known to lie somewhere and that nobody ever counted. */
function withUncounted(cells, lots) {
  const there = new Set(cells.map(placeOf));
  const uncounted = lots.map((lot) => ({
    part: lot.part, locker: lot.lies_in, lot: lot.ref, quantity: 0, low: 0, high: 0, doubts: [],
    rivals: [], flags: [], counted: false,
  })).filter((cell) => !there.has(placeOf(cell)));
  cells.sort((one, other) => (placeOf(one) < placeOf(other) ? -1 : 1));
  return [...cells, ...uncounted];
}

const placeOf = ({ part, locker, lot }) => cellKey(part, locker, lot);

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
