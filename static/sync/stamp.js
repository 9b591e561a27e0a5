/**
 * When a change holds. Mirrors the stamps of spares/sync/stamp.py.
 *
 * The boat's computer gives each stamp once. What was not sent yet gets one of the same form on
 * the phone, by its own idea of the server's time, so that it can stand among the others.
 */

const DAY_MS = 24 * 60 * 60_000;
const GREATEST_AGE_MS = 400 * DAY_MS;
const GREATEST_MS = 16 ** 12 - 1;
const GREATEST_COUNT = 16 ** 4 - 1;

/** Read the time of a stamp [ms]. */
export const timeOf = (at) => parseInt(at.slice(0, 12), 16);

/** Read the counter of a stamp [1]. */
export const countOf = (at) => parseInt(at.slice(13, 17), 16);

/** Write a stamp from its time [ms], counter [1] and device number. */
export function stampText(ms, count, dev) {
  const time = Math.min(ms, GREATEST_MS).toString(16).padStart(12, "0");
  return `${time}.${count.toString(16).padStart(4, "0")}.${dev}`;
}

/** Give how long ago the tap was [ms], cut to 0 ... 400 days. */
export const ageMs = (nowMs, tMs) => Math.min(Math.max(nowMs - tMs, 0), GREATEST_AGE_MS);

/** Say whether `after` claims a time that the server has not reached [ms]. */
export const isBeyond = (after, serverMs) => after !== "" && timeOf(after) >= serverMs;

/** Give the stamp that the next one must exceed. */
export function floorOf(previousAt, after, serverMs) {
  return isBeyond(after, serverMs) || previousAt > after ? previousAt : after;
}

/** Give the stamp of a change: the server's time less its age, above `loAt`. */
export function stamp(serverMs, nowMs, tMs, loAt, dev) {
  let ms = Math.max(serverMs - ageMs(nowMs, tMs), 0);
  let count = 0;
  if (loAt && ms <= timeOf(loAt)) {
    ms = timeOf(loAt);
    count = countOf(loAt) + 1;
    if (count > GREATEST_COUNT) [ms, count] = [ms + 1, 0];
  }
  return stampText(ms, count, dev);
}

/**
 * Stamp what is still on the phone, in the order of its numbers: by the phone's clock less what
 * it was ahead of the server's, and after all that its author had seen.
 * @param {object[]} unsent changes in order of n
 * @param {number} offPrevMs how far the phone's clock was ahead at the last sync [ms]
 */
export function stampUnsent(unsent, offPrevMs, dev) {
  let last = "";
  return unsent.map((change) => {
    const serverMs = Math.max(change.t - offPrevMs, 0);
    last = stamp(serverMs, 0, 0, last > change.after ? last : change.after, dev);
    return last;
  });
}
