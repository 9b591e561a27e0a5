/** Days as ISO text, maybe cut to month or year, and how they are read and shown. */

import { CALENDAR } from "./words.js";

export const MONTHS = CALENDAR.months;

function daysInMonth(year, month) {
  return new Date(Date.UTC(year, month, 0)).getUTCDate();
}

/** Write a day with its month as a word: `3 May 2027`, `May 2027`, `2027`; "not known" for none. */
export function showDay(iso, { short = false } = {}) {
  if (!iso) return CALENDAR.not_known;
  const [year, month, day] = iso.slice(0, 10).split("-").map(Number);
  if (!month) return String(year);
  const word = short ? MONTHS[month - 1].slice(0, 3) : MONTHS[month - 1];
  return day ? CALENDAR.day(day, word, year) : `${word} ${year}`;
}

/** Write the ISO days inside a sentence of the boat's computer as days are written here. */
export function showDays(text) {
  return text.replace(/\b\d{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12]\d|3[01])\b/g, (iso) => showDay(iso));
}

/** Write the day until which a thing is good; the last day of a month reads as the month. */
export function showUntil(iso) {
  if (!iso) return CALENDAR.no_date;
  const [year, month, day] = iso.split("-").map(Number);
  const whole = day && day === daysInMonth(year, month);
  return CALENDAR.until(showDay(whole ? iso.slice(0, 7) : iso));
}

/** Write day and short month only, for a line that already says the year elsewhere. */
export function showDayAndMonth(iso) {
  const [, month, day] = iso.split("-").map(Number);
  return CALENDAR.day(day, MONTHS[month - 1].slice(0, 3));
}

/** Write an instant (ISO, UTC) as the phone's local day and minute. */
export function showInstant(iso) {
  const at = new Date(iso);
  const two = (number) => String(number).padStart(2, "0");
  return `${CALENDAR.day(at.getDate(), MONTHS[at.getMonth()].slice(0, 3), at.getFullYear())}, `
    + `${two(at.getHours())}:${two(at.getMinutes())}`;
}

/**
 * Put a day together from what was typed in three fields; day, or day and month, may stay empty
 * where `cut` allows it.
 * @returns {{value: string|null, problem: "empty"|"no-such-day"|"need-full-day"|null}}
 */
export function joinDay({ day, month, year }, { cut = false } = {}) {
  const [d, m, y] = [day, month, year].map((text) => String(text ?? "").trim());
  if (!d && !m && !y) return { value: null, problem: "empty" };
  if (!/^\d{4}$/.test(y) || (m && !/^\d{1,2}$/.test(m)) || (d && !/^\d{1,2}$/.test(d))) {
    return { value: null, problem: "no-such-day" };
  }
  if ((!d || !m) && !cut) return { value: null, problem: "need-full-day" };
  if (d && !m) return { value: null, problem: "no-such-day" };
  if (m && (Number(m) < 1 || Number(m) > 12)) return { value: null, problem: "no-such-day" };
  if (d && (Number(d) < 1 || Number(d) > daysInMonth(Number(y), Number(m)))) {
    return { value: null, problem: "no-such-day" };
  }
  return { value: [y, m && m.padStart(2, "0"), d && d.padStart(2, "0")].filter(Boolean).join("-"),
    problem: null };
}

/** Take a day apart for three fields. */
export function splitDay(iso) {
  const [year = "", month = "", day = ""] = (iso ?? "").split("-");
  return { year, month: month && String(Number(month)), day: day && String(Number(day)) };
}

/** Count the days from one full day to another. */
export function daysBetween(fromIso, toIso) {
  return Math.round((Date.parse(`${toIso}T00:00Z`) - Date.parse(`${fromIso}T00:00Z`)) / 86400000);
}

/** Give the day a number of days after another (before it, where the number is negative), ISO. */
export function dayAfter(iso, days) {
  return new Date(Date.parse(`${iso}T00:00Z`) + days * 86400000).toISOString().slice(0, 10);
}
