/**
 * What is asked of an amount, read once: limits that each offered amount is held to.
 * Mirrors spares/domain/fit/limits.py.
 *
 * The numbers are counted in grains, whole ones for everything that is written with up to nine
 * digits after the point, because whole numbers compare exactly and faster; what is finer stays a
 * fraction. Guard band after ISO 14253-1, from memory: with tolerance T and uncertainty U of the
 * readings together a difference of at most T - U is a match, one of at least T + U is none, and
 * between them a better tool must decide.
 */

import { InvalidInput } from "../errors.js";
import { Fraction } from "../fraction.js";
import { where } from "./claims.js";
import { amount, bounds, isRange, tolerance } from "./reading.js";

const GRAINS = 10n ** 12n;      // to the unit of an attribute
const ORDER = [false, null, true];

const areWhole = (a, b) => typeof a === "bigint" && typeof b === "bigint";
const plus = (a, b) => (areWhole(a, b) ? a + b : Fraction.of(a).plus(b));
const minus = (a, b) => (areWhole(a, b) ? a - b : Fraction.of(a).minus(b));
const atMost = (a, b) => (areWhole(a, b) ? a <= b : Fraction.of(a).atMost(b));
const negated = (a) => (typeof a === "bigint" ? -a : a.negated());
const signOf = (a) => (typeof a === "bigint" ? (a > 0n ? 1 : a < 0n ? -1 : 0) : a.compare(0n));
const abs = (a) => (typeof a === "bigint" ? (a < 0n ? -a : a) : a.abs());

/** Tell whether a difference is inside a tolerance; null where the uncertainty hides it. */
export function within(gap, tol, u) {
  const size = abs(gap);
  if (atMost(size, minus(tol, u))) return true;
  return atMost(plus(tol, u), size) ? false : null;
}

/** Tell whether a value is at least a limit; null where the uncertainty hides it. */
export function reaches(value, limit, u) {
  if (atMost(limit, minus(value, u))) return true;
  const best = plus(value, u);
  return !atMost(limit, best) || (signOf(u) !== 0 && atMost(best, limit)) ? false : null;
}

/** Tell on which side an offer lies: `more`, `less`, or neither. */
export const sideOf = (gap) => ["less", "", "more"][signOf(gap) + 1];

/** Count an exact number in grains. */
export function grains({ top, bottom }) {
  const size = top * GRAINS;
  return size % bottom === 0n ? size / bottom : new Fraction(size, bottom);
}

/** Give the exact number of what was counted in grains. */
export const fromGrains = (size) => (typeof size === "bigint" ? new Fraction(size, GRAINS)
  : size.over(GRAINS));

/** Give an amount with its uncertainty in grains. */
export const sizeOf = (have) => ({ amount: grains(have.amount), u: grains(have.u) });

/** Give the comparator of a claim: its own, else that which its value's shape or the sheet asks. */
export function comparator(attribute, asked) {
  if (asked.cmp !== null) return asked.cmp;
  if (Array.isArray(asked.value)) return "one-of";
  if (isRange(asked.value)) return "range";
  if (attribute.cmp === "one-of") return "equal";
  return asked.tol !== null && attribute.cmp === "equal" ? "tol" : attribute.cmp;
}

/**
 * Read what is asked of an amount.
 * @returns {{how, wanted, sizes, tols, tol, doubt, percent, gappy}} `wanted` the amounts asked:
 *   one, several for `one-of`, the ends of a range (null: not said); `sizes` they in grains
 */
export function limitsOf(book, attribute, asked) {
  const how = comparator(attribute, asked);
  const limits = (wanted, more = {}) => ({ how, wanted, tols: [], tol: 0n, doubt: 0n, percent: null,
    gappy: false, sizes: wanted.map((one) => one && sizeOf(one)), ...more });
  if (how === "range") {
    const [low, high, gappy] = bounds(book, attribute, asked);
    return limits([low, high], { gappy });
  }
  if (how === "one-of") {
    const many = (Array.isArray(asked.value) ? asked.value : [asked.value])
      .map((value) => amount(book, attribute, asked, value));
    return limits(many, { tols: many.map((one) => tolerance(attribute, asked, one.amount)) });
  }
  const wanted = amount(book, attribute, asked);
  const tol = tolerance(attribute, asked, wanted.amount);
  const one = (more) => limits([wanted], { tols: [tol], ...more });
  if (how === "at-least" || how === "at-most") {
    return one({ tol: asked.tol === null || tol === null ? 0n : grains(tol) });
  }
  if (how === "tol" && tol === null) {
    throw InvalidInput.at(`${where(asked)}/tol`, "a tolerance is needed");
  }
  if (asked.tol === null && tol && !tol.isZero && attribute.tol_percent !== null) {
    return one({ percent: attribute.tol_percent });
  }
  if (attribute.tol_wide !== null && asked.tol === null && tol !== null) {
    // between the narrow and the wide tolerance nobody can tell without knowing the joint
    return one({ tol: grains(attribute.tol_wide.plus(tol).over(2n)),
      doubt: grains(attribute.tol_wide.minus(tol).over(2n)) });
  }
  return one({ tol: tol ? grains(tol) : 0n });
}

/** Close limits that are open upwards, where what is far above them needs a closer look. */
export function upTo(limits, times) {
  const [low] = limits.wanted;
  const half = limits.how === "range" && limits.wanted[1] === null && !limits.gappy;
  if (times === null || low === null || !(half || limits.how === "at-least")) return limits;
  const ends = [{ ...low, amount: low.amount.minus(Fraction.of(fromGrains(limits.tol))) },
    { ...low, amount: low.amount.times(times) }];
  return { ...limits, how: "range", wanted: ends, sizes: ends.map(sizeOf), tols: [], tol: 0n };
}

const decision = (inside, gap, u, tol, open_end = false) => ({ inside, gap, u, tol, open_end });

/**
 * Hold an amount to its limits.
 * @returns {{inside, gap, u, tol, open_end}} whether it is inside (null: nobody can tell) and what
 *   that was decided by [grains]; `open_end` where an end of the range is not known
 */
export function decide(limits, offered) {
  const { how } = limits;
  if (how === "range") return inRange(limits, offered);
  if (how === "one-of") return oneOf(limits, offered);
  const [wanted] = limits.sizes;
  const gap = minus(offered.amount, wanted.amount);
  const both = plus(wanted.u, offered.u);
  const u = limits.doubt === 0n ? both : plus(both, limits.doubt);
  let { tol } = limits;
  if (how === "at-least") {
    return decision(reaches(offered.amount, minus(wanted.amount, tol), u), gap, u, tol);
  }
  if (how === "at-most") {
    return decision(reaches(negated(offered.amount), minus(negated(wanted.amount), tol), u), gap, u,
      tol);
  }
  if (limits.percent !== null) {
    const [one, other] = [abs(wanted.amount), abs(offered.amount)];
    tol = Fraction.of(atMost(one, other) ? one : other).times(limits.percent).over(100n);
  }
  return decision(within(gap, tol, u), gap, u, tol);
}

function inRange(limits, offered) {
  const [low, high] = limits.sizes;
  const results = [[low, (a) => a], [high, negated]].filter(([end]) => end).map(([end, turned]) => {
    const u = plus(end.u, offered.u);
    return decision(reaches(turned(offered.amount), turned(end.amount), u),
      minus(offered.amount, end.amount), u, 0n);
  });
  if (!results.length) return decision(null, 0n, 0n, 0n, true);
  const worst = results.reduce((bad, one) => (
    ORDER.indexOf(one.inside) < ORDER.indexOf(bad.inside) ? one : bad));
  const spread = low && high ? minus(high.amount, low.amount) : 0n;
  if (worst.inside) return decision(limits.gappy ? null : true, 0n, worst.u, spread, limits.gappy);
  return { ...worst, tol: spread };
}

function oneOf(limits, offered) {
  const results = limits.sizes.map((one, n) => within(minus(offered.amount, one.amount),
    limits.tols[n] ? grains(limits.tols[n]) : 0n, plus(one.u, offered.u)));
  return decision(results.includes(true) ? true : results.includes(null) ? null : false, 0n, 0n, 0n);
}
