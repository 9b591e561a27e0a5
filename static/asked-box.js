/**
 * Requests that wait until the boat's computer answers, as they were typed. They are kept in the
 * browser's storage, which all tabs share: each change begins from what is there now.
 */

import { keep, onDisk, recall } from "./phone-store.js";
import { signal } from "./vendor/signals.js";

const NAME = "outbox";

/** Entries {change_id, path, body, text, method?, vessel?, mend?, problem: {code, detail} | null}, oldest first. */
export const asked = signal(recall(NAME, []));

/** Ids of the entries that this tab is sending. */
export const sending = signal(new Set());

/** What could not even be kept, with its reason: it lasts as long as the page is open. */
export const unsaved = signal([]);

/** What found no room on the disk: the entries as this tab has them, and as they lay there then. */
let beside = null;

/** Give the entries of now: where the disk was full, those of this tab with what others did there since. */
function current() {
  const there = onDisk(NAME, []);
  if (!beside) return there;
  const [was, is, own] = [beside.there, there, beside.own].map((some) => new Set(some.map((one) => one.change_id)));
  return [...beside.own.filter(({ change_id: id }) => is.has(id) || !was.has(id)),
    ...there.filter(({ change_id: id }) => !was.has(id) && !own.has(id))];
}

/** Change the entries with `work(entries)`; says whether they are on the disk. */
export function changeAsked(work) {
  const own = work(current());
  asked.value = own;
  const isKept = keep(NAME, own);
  beside = isKept ? null : { own, there: onDisk(NAME, []) };
  return isKept;
}

/** Note facts on one entry. */
export const noteOn = (id, facts) => changeAsked((entries) =>
  entries.map((entry) => (entry.change_id === id ? { ...entry, ...facts } : entry)));

/** Take one entry out. */
export const takeOut = (id) => changeAsked((entries) => entries.filter((entry) => entry.change_id !== id));

/** Say whether an entry still waits; another tab may have sent it. */
export const stillWaits = (id) => current().some((entry) => entry.change_id === id);

/** Do something for an entry unless another tab is at it; then null. */
export function once(id, work) {
  const { locks } = globalThis.navigator ?? {};
  if (!locks) return work();
  return locks.request(`spares request ${id}`, { ifAvailable: true }, (lock) => (lock ? work() : null));
}

globalThis.addEventListener?.("storage", ({ key }) => {
  if (key === null || key.endsWith(`.${NAME}`)) asked.value = current();
});
// A page that was put aside heard nothing of what other tabs sent.
globalThis.addEventListener?.("pageshow", ({ persisted }) => {
  if (persisted) asked.value = current();
});
