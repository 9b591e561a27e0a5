/**
 * The copy of the log, arranged so that one document or one part is found without reading all of
 * it. Entries are added, or replaced under their id, as they come.
 */

import { effects } from "../domain/movements.js";

const GENERAL = ["same", "void", "settle", "restamp"];

/** Say whether an entry speaks of other entries, wherever these are. */
export const isGeneral = ({ kind }) => GENERAL.includes(kind);

/** Give the kind of a reference `kind/uuid`. */
export const kindOf = (name) => name.slice(0, name.indexOf("/"));

/** Give the id in it. */
export const idOf = (name) => name.slice(name.indexOf("/") + 1);

/** Give an index of nothing. `documents` keeps what was read of each; `version` rises with them. */
export function newIndex() {
  return {
    entries: new Map(), byPart: new Map(), partsIn: new Map(), settings: new Map(), byKind: new Map(), exchanges: new Map(),
    general: new Set(), documents: new Map(), version: 0,
  };
}

function into(map, key, value) {
  if (!map.has(key)) map.set(key, new Set());
  map.get(key).add(value);
}

/** Add an entry, or put another in the place of the one that had its id. */
export function addEntry(index, entry) {
  index.entries.set(entry.id, entry);
  if (isGeneral(entry)) index.general.add(entry.id);
  if (entry.kind === "restamp") index.documents.clear();
  if (entry.kind === "set") {
    const { doc } = entry.body;
    into(index.settings, doc, entry.id);
    into(index.byKind, kindOf(doc), doc);
    index.documents.delete(doc);
    index.version += 1;
  }
  if (entry.kind === "exchange") into(index.exchanges, entry.body.point, entry.id);
  for (const { part, locker } of effects(entry)) {
    into(index.byPart, part, entry.id);
    into(index.partsIn, locker, part);
  }
}

/** Give the entries of some ids. */
export const entriesOfIds = (index, ids) => [...(ids ?? [])].map((id) => index.entries.get(id));
