/**
 * Requests that wait until the boat's computer answers, as they were typed. They are kept in the
 * browser's storage, which all tabs share: each change begins from what is there now.
 */

import { keep, recall } from "./phone-store.js";
import { signal } from "./vendor/signals.js";

const NAME = "outbox";

/** Entries {change_id, path, body, text, method?, vessel?, mend?, problem: {code, detail} | null}, oldest first. */
export const asked = signal(recall(NAME, []));

/** Ids of the entries that this tab is sending. */
export const sending = signal(new Set());

/** What could not even be kept, with its reason: it lasts as long as the page is open. */
export const unsaved = signal([]);

/** Change the entries with `work(entries)`; says whether they are on the disk. */
export function changeAsked(work) {
  const now = work(recall(NAME, []));
  asked.value = now;
  return keep(NAME, now);
}

/** Note facts on one entry. */
export const noteOn = (id, facts) => changeAsked((entries) =>
  entries.map((entry) => (entry.change_id === id ? { ...entry, ...facts } : entry)));

/** Take one entry out. */
export const takeOut = (id) => changeAsked((entries) => entries.filter((entry) => entry.change_id !== id));

/** Say whether an entry still waits; another tab may have sent it. */
export const stillWaits = (id) => recall(NAME, []).some((entry) => entry.change_id === id);

/** Do something for an entry unless another tab is at it; then null. */
export function once(id, work) {
  const { locks } = globalThis.navigator ?? {};
  if (!locks) return work();
  return locks.request(`spares request ${id}`, { ifAvailable: true }, (lock) => (lock ? work() : null));
}

globalThis.addEventListener?.("storage", ({ key }) => {
  if (key === null || key.endsWith(`.${NAME}`)) asked.value = recall(NAME, []);
});
