/**
 * Wet glass makes second touches that nobody meant: one that follows another at once is none.
 */

/** A finger does not come down twice on purpose within this time [ms]. */
const APART_MS = 700;

let last = -Infinity;

/** Say whether a touch of a button that takes something follows another too closely. */
export function isGhost(now = performance.now()) {
  const ghost = now - last < APART_MS;
  last = now;
  return ghost;
}
