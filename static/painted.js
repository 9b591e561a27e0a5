/** What a touch changed is painted first; the work that it asks for comes after. */

/** A page that nobody sees is not painted, and does not wait for it [ms]. */
const LONGEST_MS = 100;

/** Wait until what was changed so far is on the screen. */
export const painted = () => new Promise((resolve) => {
  if (!globalThis.requestAnimationFrame) return resolve();
  // Not at once: who waits in a loop would let nothing else have its turn, for ever.
  if (document.hidden) return setTimeout(resolve);
  requestAnimationFrame(() => setTimeout(resolve));
  return setTimeout(resolve, LONGEST_MS);
});
