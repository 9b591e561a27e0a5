/** Plain values as two programs in two languages read, compare and write them alike. */

import { Fraction } from "./fraction.js";

/** Tell whether a value is an object of parts, such as `{min, max}`. */
export const isParts = (value) => value !== null && typeof value === "object"
  && !Array.isArray(value) && !(value instanceof Fraction);

/** Tell whether nothing is said. */
export const isNone = (value) => value === null || value === undefined;

/** Tell whether two plain values are the same; the order of parts does not count. */
export function same(a, b) {
  if (isNone(a) || isNone(b)) return isNone(a) && isNone(b);
  if (a instanceof Fraction && b instanceof Fraction) return a.equals(b);
  if (Array.isArray(a) || Array.isArray(b)) {
    return Array.isArray(a) && Array.isArray(b) && a.length === b.length
      && a.every((one, n) => same(one, b[n]));
  }
  if (isParts(a) && isParts(b)) {
    const names = Object.keys(a);
    return names.length === Object.keys(b).length
      && names.every((name) => Object.hasOwn(b, name) && same(a[name], b[name]));
  }
  return plainNumber(a) === plainNumber(b);
}

/** Yes and no count as 1 and 0 where values are compared, as in the server's language. */
const plainNumber = (value) => (typeof value === "boolean" ? Number(value) : value);

/** Write any plain value as the server's language does. */
export function textOf(value) {
  if (isNone(value)) return "None";
  if (typeof value === "boolean") return value ? "True" : "False";
  if (value instanceof Fraction) {
    return value.isWhole ? String(value.top) : `${value.top}/${value.bottom}`;
  }
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}

/** Write a number with so many digits after the point, a tie to the even digit. */
export function fixed(number, digits) {
  const rounded = Fraction.of(number.toFixed(60)).rounded(digits);
  return (Number(rounded.top) / Number(rounded.bottom)).toFixed(digits);
}

/** Give a list without doubles, first ones first. */
export const distinct = (items) => [...new Set(items)];

/** Give the first of the items with the least rank. */
export function leastBy(items, rank) {
  return items.reduce((best, one) => (rank(one) < rank(best) ? one : best));
}
