/**
 * Turn a claim's plain value into an amount, a word, a flag or a span, with uncertainty.
 * Mirrors spares/domain/fit/reading.py.
 */

import { InvalidInput, UnknownUnit } from "../errors.js";
import { ZERO } from "../fraction.js";
import { convert, convertStep, exact, formatNumber, formatQuantity, parseQuantity,
  unitNamed } from "../units.js";
import { isNone, isParts, textOf } from "../values.js";
import { ABSENT, where } from "./claims.js";

const YES = ["yes", "true", "y", "1"];
const NO = ["no", "false", "n", "0", ABSENT];
const UNSAID = ["", "unknown", "not-known", "not-stated", "not-measured", "nobody-knows", "tbd",
  "n/a", "na", "n.a.", "not-sure", "unsure", "not-given", "not-specified", "unspecified",
  "dont-know", "don't-know", "see-photo", "see-picture", "to-be-measured", "original", "same",
  "same-as-old", "as-old", "as-the-old-one", "like-the-old-one", "as-before"];
const GUESS = /\?$|\(\?\)|^(?:prob|probably|perhaps|maybe)\b/;
const QUARTERS = [/^(?<q>[1-4])\s*Q[\s/-]*(?<y>\d{4}|\d\d)$/,
  /^Q\s*(?<q>[1-4])[\s/-]*(?<y>\d{4}|\d\d)$/, /^(?<y>\d{4})[\s/-]*Q\s*(?<q>[1-4])$/];
const NOISE_DIGITS = 9;      // nothing that people measure is finer than this share of a millimetre
const PRINTED = ["", "maker", "plate"];      // origins whose figures are taken as exact
const ENDS = ["min", "max"];

/** Tell whether a value says: looked for, not there. */
export const isAbsent = (value) => typeof value === "string"
  && value.trim().toLowerCase() === ABSENT;

/** Tell whether a claim is one amount below 0 of what is never below 0. */
export function cannotBe(book, attribute, claim) {
  const value = part(claim.value, "value");
  return attribute.type === "quantity" && !attribute.signed
    && ["string", "number"].includes(typeof value) && /[-−]/.test(String(value)) && !isAbsent(value)
    && !["range", "mates"].includes(claim.cmp)
    && unitNamed(attribute.unit || "1").kind !== "temperature"
    && amount(book, attribute, claim).amount.below(ZERO);
}

/** Tell whether a text says that nobody knows: two of that are no match. */
export function isUnsaid(value) {
  if (typeof value !== "string") return false;
  const text = word(value).replaceAll("’", "'");
  // `CR?` is a guess that nobody stands for
  return GUESS.test(text) || UNSAID.includes(text)
    || UNSAID.includes(text.replace(/^[?.…–-]+|[?.…–-]+$/g, ""));
}

/** Give the text by which two words are compared: case, spaces and underscores do not count. */
export function word(value) {
  if (typeof value === "boolean") return value ? "yes" : "no";
  const text = typeof value === "number" ? formatNumber(value) : textOf(value);
  return text.replace(/[_-]/g, " ").toLowerCase().split(/\s+/).filter(Boolean).join("-");
}

/** Write a date as far as it is known; `2Q23` and `Q2 2023` give the quarter's first month. */
export function dayText(value) {
  const text = textOf(part(value, "value"));
  const hit = QUARTERS.map((form) => form.exec(text.trim().toUpperCase())).find(Boolean);
  if (!hit) return text;
  const { q, y } = hit.groups;
  return `${y.length === 2 ? "20" : ""}${y}-${String(Number(q) * 3 - 2).padStart(2, "0")}`;
}

/** Give one part of a value with parts; a plain value has only its `value`. */
export function part(value, name) {
  if (isParts(value)) return Object.hasOwn(value, name) ? value[name] ?? null : null;
  return name === "value" ? value ?? null : null;
}

/** Read yes or no; null where it is neither. */
export function flag(given) {
  const value = part(given, "value");
  if (typeof value === "boolean") return value;
  const text = word(value);
  return YES.includes(text) ? true : NO.includes(text) ? false : null;
}

/** Tell whether a value names an end of a range. */
export const isRange = (value) => isParts(value) && ENDS.some((end) => Object.hasOwn(value, end));

/** Print an amount, with the uncertainty where there is one. */
export function amountText({ amount: size, unit, u }) {
  const shown = formatQuantity({ amount: size, unit });
  return u.isZero ? shown : `${shown} ± ${formatNumber(u)}`;
}

/** Read a value (the claim's own when left out): {amount, u, unit} in the attribute's unit. */
export function amount(book, attribute, claim, value = null) {
  const raw = value === null ? part(claim.value, "value") : value;
  const unit = unitNamed(attribute.unit || "1");
  const usual = unitOf(claim, unit.symbol);
  const at = `${where(claim)}/value`;
  const size = readable(at, () => {
    const quantity = typeof raw === "string" ? parseQuantity(raw, usual)
      : { amount: exact(raw), unit: usual };
    return convert(quantity, unit.symbol).amount.rounded(NOISE_DIGITS);
  });
  return { amount: size, u: uncertainty(book, attribute, claim), unit: unit.symbol };
}

/** Give the uncertainty of a claim [the attribute's unit]: its own, else by origin and tool. */
export function uncertainty(book, attribute, claim) {
  if (claim.u !== null) return step(attribute, claim, claim.u, "u");
  const { how, tool } = claim.origin;
  if (PRINTED.includes(how) || unitNamed(attribute.unit || "1").kind !== "length") return ZERO;
  const inUnit = (size) => convertStep(exact(size), "mm", attribute.unit);
  if (how === "measured-used" && attribute.rubber) return inUnit(book.used_rubber_mm);
  const used = tool || attribute.tool;
  if (!Object.hasOwn(book.tools, used)) {
    throw InvalidInput.at(`${where(claim)}/origin/tool`,
      `one of ${Object.keys(book.tools).join(", ")}`);
  }
  return inUnit(book.tools[used]);
}

/** Give the tolerance of a claim: its own, else the sheet's; null where there is neither. */
export function tolerance(attribute, claim, nominal) {
  if (claim.tol !== null) return step(attribute, claim, claim.tol, "tol");
  if (claim.cmp === "equal" && attribute.cmp !== "equal") return ZERO;
  if (attribute.tol_percent !== null) return nominal.abs().times(attribute.tol_percent).over(100n);
  return attribute.tol;
}

/** Read a tolerance or an uncertainty, which is a difference and not negative. */
export function step(attribute, claim, given, name) {
  const unit = unitNamed(attribute.unit || "1").symbol;
  const size = readable(`${where(claim)}/${name}`, () => {
    const usual = unitOf(claim, unit);
    const quantity = typeof given === "string" ? parseQuantity(given, usual)
      : { amount: exact(given), unit: usual };
    return convertStep(quantity.amount, quantity.unit, unit);
  });
  if (size.below(ZERO)) throw InvalidInput.at(`${where(claim)}/${name}`, "must not be negative");
  return size.rounded(NOISE_DIGITS);
}

/** Read `{min, max}`: least, greatest, and whether one that is named is not known. */
export function bounds(book, attribute, claim) {
  let { value } = claim;
  if (typeof value === "string") {
    const halves = value.replaceAll("–", "-").replaceAll("…", "-").replaceAll(" to ", "-").split("-");
    if (halves.length === 2) value = { min: halves[0], max: halves[1] };
  }
  if (!isRange(value)) throw InvalidInput.at(`${where(claim)}/value`, "a range needs min or max");
  const [low, high] = ENDS.map((end) => (isNone(value[end]) ? null
    : amount(book, attribute, claim, value[end])));
  if (low && high && low.amount.above(high.amount)) {
    throw InvalidInput.at(`${where(claim)}/value`, "min is above max");
  }
  return [low, high, ENDS.some((end) => Object.hasOwn(value, end) && isNone(value[end]))];
}

/** Name the field of whatever in it cannot be read. */
export function readable(pointer, read) {
  try {
    return read();
  } catch (error) {
    if (error instanceof UnknownUnit) throw InvalidInput.at(pointer, error.detail);
    throw error;
  }
}

function unitOf(claim, fallback) {
  if (claim.unit === null) return fallback;
  return readable(`${where(claim)}/unit`, () => unitNamed(claim.unit).symbol);
}

