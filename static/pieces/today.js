/**
 * Today as the boat's computer counts it, else as this phone does. Her answer may be weeks old when
 * it comes from this phone's copy: the days that the phone has counted since are added.
 */

import { dayAfter, daysBetween } from "../dates.js";

/** Give the day by this phone's own calendar, ISO. */
export function phoneDay(now = new Date()) {
  const two = (number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** Note on an answer of `summary` the phone's day on which it came, unless it bears one. */
export const seenOn = (answer, now = new Date()) => ({ seen_on: phoneDay(now), ...answer });

/** @param {{today?: string, seen_on?: string}|null} summary the answer of `summary` */
export function today(summary, now = new Date()) {
  const here = phoneDay(now);
  if (!summary?.today) return here;
  return dayAfter(summary.today, daysBetween(summary.seen_on ?? here, here));
}
