/**
 * Documents that several people edit without seeing each other. Mirrors spares/sync/merge.py.
 *
 * Every version of every field is kept; versions that nobody stands on are the heads. Shown is
 * the head with the greatest stamp; two heads with different values are a conflict.
 */

import { onePerId } from "../domain/book.js";
import { saw } from "../domain/movements.js";
import { canonical } from "./change.js";

const byStamp = (one, other) => (one.at < other.at ? -1 : Number(one.at > other.at));

/** Unite versions {change, value, base, at} of one field: one for each change, the smaller stamp. */
export function merge(...sets) {
  const found = new Map();
  for (const version of sets.flat()) {
    const twin = found.get(version.change);
    if (!twin || version.at < twin.at) found.set(version.change, version);
  }
  return [...found.values()].sort((one, other) =>
    byStamp(one, other) || (one.change < other.change ? -1 : 1));
}

/** Give the versions that no other stands on, in the order of their stamps. */
export function heads(versions) {
  const replaced = new Set(versions.flatMap((version) =>
    version.base.filter((name) => name !== version.change)));
  return versions.filter((version) => !replaced.has(version.change)).sort(byStamp);
}

/** Give the version to show: the head with the greatest stamp, or null. */
export const shown = (versions) => heads(versions).at(-1) ?? null;

/** Give the heads if they disagree, else nothing. */
export function conflict(versions) {
  const found = heads(versions);
  return new Set(found.map((version) => canonical(version.value))).size > 1 ? found : [];
}

/** Name what the next version must stand on to settle the field: all heads. */
export const baseForNext = (versions) => heads(versions).map((version) => version.change).sort();

/** Collect the versions of each field from the `set` entries of one document. */
export function versionsOf(settings) {
  const found = new Map();
  for (const entry of settings) {
    for (const [name, value] of Object.entries(entry.body.f)) {
      if (!found.has(name)) found.set(name, []);
      found.get(name).push({
        change: entry.id, value, base: entry.body.base[name] ?? [], at: entry.at,
      });
    }
  }
  for (const [name, versions] of found) found.set(name, merge(versions));
  return found;
}

/** Part the `set` entries by document. */
export function settingsByDoc(entries) {
  const found = new Map();
  for (const entry of onePerId(entries)) {
    if (entry.kind !== "set") continue;
    if (!found.has(entry.body.doc)) found.set(entry.body.doc, []);
    found.get(entry.body.doc).push(entry);
  }
  return found;
}

/**
 * Read a document from its `set` entries.
 * @returns {{values: object, conflicts: object, gone: boolean, edited_while_gone: string[]}|null}
 */
export function readDocument(settings) {
  const versions = versionsOf(settings);
  if (!versions.size) return null;
  const values = {};
  const conflicts = {};
  for (const [name, all] of versions) {
    const one = shown(all);
    if (one) values[name] = one.value;
    const apart = conflict(all);
    if (apart.length) conflicts[name] = apart;
  }
  const gone = values.gone === true;
  delete values.gone;
  return { values, conflicts, gone, edited_while_gone: gone ? editedWhileGone(settings) : [] };
}

function editedWhileGone(settings) {
  const deletions = settings.filter((entry) => entry.body.f.gone === true);
  const deletion = deletions.reduce((last, entry) => (entry.at > last.at ? entry : last));
  return [...settings].sort(byStamp)
    .filter((entry) => entry !== deletion && !saw(deletion, entry)
      && Object.keys(entry.body.f).some((name) => name !== "gone"))
    .map((entry) => entry.id);
}
