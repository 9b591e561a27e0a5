/** Numbers as people type them, with comma or point, and as they are shown. */

import { CALENDAR } from "./words.js";

const PLAIN = /^[+-]?\d+(?:[.,]\d+)?$/;
const THOUSANDS_LIKE = /^\d{1,3}[.,]\d{3}$/;
const MOST_DECIMALS = 3;
/** Between these, JavaScript writes a number without a power of ten, also a thousand times as large. */
const [SMALLEST, LARGEST] = [1e-6, 1e15];

/**
 * Read a typed number; comma and point are both the decimal mark.
 * @returns {{value: number|null, problem: "empty"|"not-a-number"|null}}
 */
export function parseNumber(text) {
  const written = text.trim().replace(/\s+/g, "");
  if (written === "") return { value: null, problem: "empty" };
  if (!PLAIN.test(written)) return { value: null, problem: "not-a-number" };
  return { value: Number(written.replace(",", ".")), problem: null };
}

/**
 * Give both readings of a text such as `1.912`, whose lone mark before exactly three
 * digits may divide thousands or be the decimal mark; null when there is one reading only.
 * The one nearer to the last figure comes first.
 * @param {number|null} last the figure before, in the same unit
 */
export function twoReadings(text, last) {
  const written = text.trim();
  if (!THOUSANDS_LIKE.test(written) || /^0+[.,]/.test(written)) return null;
  const small = Number(written.replace(",", "."));
  const large = Number(written.replace(/[.,]/, ""));
  if (last === null || last === undefined) return [large, small];
  return Math.abs(large - last) <= Math.abs(small - last) ? [large, small] : [small, large];
}

/** Read a typed number that may be a large one: a text with two readings is said to be one, never guessed. */
export function parseFigure(text) {
  return twoReadings(text, null) ? { value: null, problem: "two-readings" } : parseNumber(text);
}

/** Write a number as it stands in a field at first: in a way that has one reading only. */
export function fieldText(value) {
  const text = showNumber(value);
  return twoReadings(text, null) ? showNumber(value, { decimals: MOST_DECIMALS + 1 }) : text;
}

/** Read a count: a whole number for pieces and sets, where 1.000 may be meant as a thousand; a decimal for litres, metres, kilograms. */
export function parseCount(text, unit, { atLeast = 0 } = {}) {
  const { value, problem } = parseNumber(text);
  if (problem) return { value: null, problem };
  if (value < atLeast || (atLeast === 0 && value < 0)) return { value: null, problem: "too-small" };
  if ((unit === "pcs" || unit === "set") && (!Number.isInteger(value) || twoReadings(text, null))) {
    return { value: null, problem: "not-whole" };
  }
  return { value, problem: null };
}

/**
 * The decimal mark where it is known here; to ask the browser for its first writer takes long. English of other
 * countries (Denmark, Germany, South Africa, ...) may have the comma: there the browser knows.
 */
const MARKS = { en: ".", "en-US": ".", "en-GB": ".", da: ",", "da-DK": "," };

/** What writes numbers in another language: slow to make, and asked for many times on a page. */
const writers = new Map();

function writerOf(locale, decimals) {
  const key = `${locale} ${decimals}`;
  if (!writers.has(key)) {
    const digits = decimals === null ? { maximumFractionDigits: MOST_DECIMALS }
      : { minimumFractionDigits: decimals, maximumFractionDigits: decimals };
    writers.set(key, new Intl.NumberFormat(locale, { useGrouping: false, ...digits }));
  }
  return writers.get(key);
}

/** Round half away from nothing the figure that is written, not the one in the machine: 1.005 is 1.01. */
function rounded(value, decimals) {
  if (Math.abs(value) < SMALLEST) return 0;
  const whole = Math.round(Number(`${Math.abs(value)}e${decimals}`));
  return Math.sign(value) * Number(`${whole}e-${decimals}`);
}

const markOf = (locale = globalThis.navigator?.language ?? "") => MARKS[locale];

/** Write a number without thousands marks, since a lone mark must mean one thing only. */
export function showNumber(value, { decimals = null, locale = CALENDAR.locale } = {}) {
  const mark = Math.abs(value) < LARGEST ? markOf(locale) : null;
  if (!mark) return writerOf(locale, decimals).format(value);
  const figure = rounded(value, decimals ?? MOST_DECIMALS);
  return (decimals === null ? String(figure) : figure.toFixed(decimals)).replace(".", mark);
}

/** Write running hours [h] with one decimal. */
export function showHours(hours, locale = CALENDAR.locale) {
  return `${showNumber(hours, { decimals: 1, locale })} h`;
}

/** Write a quantity with its unit; pieces stand without one. */
export function showQuantity(quantity, unit = "pcs", locale = CALENDAR.locale) {
  const figure = showNumber(quantity, { locale });
  return unit === "pcs" || !unit ? figure : `${figure} ${unit}`;
}

/** Write money with its currency where the answer names it; null where no price is known. */
export function showMoney(cost) {
  if (!cost || Number(cost.amount ?? cost) === 0) return null;
  return [showNumber(Number(cost.amount ?? cost), { decimals: 2 }), cost.currency].filter(Boolean).join(" ");
}
