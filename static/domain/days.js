/** Calendar days as ISO text, without clock or zone. */

const ISO_DAY = /^(\d{4})-?(\d{2})-?(\d{2})$/;
const DAY_MS = 86400000;

/** Give the number of a day since 1970-01-01, or null where the text is no day that exists. */
export function dayNumber(text) {
  const found = ISO_DAY.exec(text);
  if (!found || (String(text).split("-").length - 1) % 2) return null;
  const [year, month, day] = found.slice(1).map(Number);
  const date = new Date(0);
  date.setUTCFullYear(year, month - 1, day);
  const there = year > 0 && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  return there ? date.getTime() / DAY_MS : null;
}

/** Tell whether a text is a day that exists. */
export const isDay = (text) => typeof text === "string" && dayNumber(text) !== null;
