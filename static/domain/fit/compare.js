/**
 * Compare amounts three ways: it is, it is not, nobody can tell. Mirrors spares/domain/fit/compare.py.
 *
 * With tolerance T and uncertainty U of the readings together: a difference of at most T - U is a
 * match, one of at least T + U is none, and between them a better tool must decide (guard band,
 * the idea of ISO 14253-1, from memory).
 */

import { InvalidInput } from "../errors.js";
import { Fraction, ZERO, least } from "../fraction.js";
import { formatNumber, formatQuantity } from "../units.js";
import { where } from "./claims.js";
import { differs, match, unknown } from "./finding.js";
import { amount, amountText, bounds, isRange, tolerance } from "./reading.js";

const TOOL_WORDS = { caliper: "calipers", rule: "a steel rule", tape: "a tape" };
const FINEST = "a micrometer or better";

/** Tell whether a difference is inside a tolerance; null where the uncertainty hides it. */
export function within(gap, tol, u) {
  if (gap.abs().atMost(tol.minus(u))) return true;
  return gap.abs().atLeast(tol.plus(u)) ? false : null;
}

/** Tell whether a value is at least a limit; null where the uncertainty hides it. */
export function reaches(value, limit, u) {
  if (value.minus(u).atLeast(limit)) return true;
  const best = value.plus(u);
  return best.below(limit) || (!u.isZero && best.atMost(limit)) ? false : null;
}

/** Compare an offered amount with a claim by its comparator. */
export function compareAmount(book, attribute, asked, offered) {
  const how = comparator(attribute, asked);
  if (how === "range") return inRange(book, attribute, asked, offered);
  if (how === "one-of") return oneOf(book, attribute, asked, offered);
  const wanted = amount(book, attribute, asked);
  const [u, gap] = [wanted.u.plus(offered.u), offered.amount.minus(wanted.amount)];
  if (how === "at-least" || how === "at-most") {
    const slack = asked.tol === null ? ZERO : tolerance(attribute, asked, wanted.amount);
    const sign = how === "at-least" ? 1n : -1n;
    const inside = reaches(offered.amount.times(sign), wanted.amount.times(sign).minus(slack), u);
    const text = `${how === "at-least" ? "≥" : "≤"} ${amountText(wanted)}`;
    return told(book, attribute, { inside, gap, text, u, tol: slack }, offered);
  }
  return byTolerance(book, attribute, asked, { wanted, offered, u, gap, how });
}

function byTolerance(book, attribute, asked, { wanted, offered, u, gap, how }) {
  let tol = tolerance(attribute, asked, least(wanted.amount.abs(), offered.amount.abs()));
  if (how === "tol" && tol === null) {
    throw InvalidInput.at(`${where(asked)}/tol`, "a tolerance is needed");
  }
  let doubt = u;
  if (attribute.tol_wide !== null && asked.tol === null && tol !== null) {
    // between the narrow and the wide tolerance nobody can tell without knowing the joint
    doubt = u.plus(attribute.tol_wide.minus(tol).over(2n));
    tol = attribute.tol_wide.plus(tol).over(2n);
  }
  const text = showTolerance(wanted, tolerance(attribute, asked, wanted.amount));
  const inside = within(gap, tol ?? ZERO, doubt);
  return told(book, attribute, { inside, gap, text, u: doubt, tol: tol ?? ZERO }, offered);
}

/** Give the comparator of a claim: its own, else that which its value's shape or the sheet asks. */
export function comparator(attribute, asked) {
  if (asked.cmp !== null) return asked.cmp;
  if (Array.isArray(asked.value)) return "one-of";
  if (isRange(asked.value)) return "range";
  if (attribute.cmp === "one-of") return "equal";
  return asked.tol !== null && attribute.cmp === "equal" ? "tol" : attribute.cmp;
}

/** Print a nominal value with its tolerance. */
export function showTolerance(wanted, tol) {
  const shown = formatQuantity(wanted);
  const wide = tol && !tol.isZero ? `${shown} ± ${formatNumber(tol)}` : shown;
  return wanted.u.isZero ? wide : `${wide} (read to ± ${formatNumber(wanted.u)})`;
}

/** Name the coarsest tool that would decide within a tolerance, and how to use it. */
export function betterTool(book, attribute, tol) {
  if (attribute.unit !== "mm") return attribute.measure;
  const tool = ["tape", "rule", "caliper", "micrometer"]
    .find((name) => Fraction.of(book.tools[name]).times(3n).atMost(tol));
  return `measure again with ${TOOL_WORDS[tool] ?? FINEST}: ${attribute.measure}`;
}

function told(book, attribute, { inside, gap, text, u, tol }, offered) {
  const side = gap.above(ZERO) ? "more" : gap.below(ZERO) ? "less" : "";
  const texts = { required: text, offered: amountText(offered), side };
  if (inside === null) {
    return unknown(`the readings are good to ± ${formatNumber(u)} only, too coarse to tell`,
      betterTool(book, attribute, tol), texts);
  }
  if (inside) return match(gap.isZero ? "as asked" : "inside", texts);
  if (gap.isZero) return differs(`not as asked: ${attribute.why}`, texts);
  const by = `${formatQuantity({ amount: gap.abs(), unit: offered.unit })} ${side} than asked`;
  return differs(`${by}: ${attribute.why}`, { detail: by, ...texts });
}

function inRange(book, attribute, asked, offered) {
  const [low, high, gappy] = bounds(book, attribute, asked);
  const text = [low, high].map((end) => (end ? amountText(end) : "?")).join(" to ");
  const results = [[low, 1n], [high, -1n]].filter(([end]) => end).map(([end, sign]) => {
    const u = end.u.plus(offered.u);
    return { u, gap: offered.amount.minus(end.amount),
      inside: reaches(offered.amount.times(sign), end.amount.times(sign), u) };
  });
  const texts = { required: text, offered: amountText(offered) };
  if (!results.length) return unknown("the range is not known", attribute.measure, texts);
  const order = [false, null, true];
  const { inside, gap, u } = results.reduce((bad, one) => (
    order.indexOf(one.inside) < order.indexOf(bad.inside) ? one : bad));
  if (inside && gappy) return unknown("one end of the range is not known", attribute.measure, texts);
  const tol = low && high ? high.amount.minus(low.amount) : ZERO;
  return told(book, attribute, { inside, gap: inside ? ZERO : gap, text, u, tol }, offered);
}

function oneOf(book, attribute, asked, offered) {
  const values = Array.isArray(asked.value) ? asked.value : [asked.value];
  const wanted = values.map((value) => amount(book, attribute, asked, value));
  const results = wanted.map((one) => within(offered.amount.minus(one.amount),
    tolerance(attribute, asked, one.amount) ?? ZERO, one.u.plus(offered.u)));
  const texts = { required: wanted.map(amountText).join(" or "), offered: amountText(offered) };
  if (results.includes(true)) return match("one of those asked", texts);
  if (results.includes(null)) {
    return unknown("the reading is too coarse to tell", attribute.measure, texts);
  }
  return differs(`none of those asked: ${attribute.why}`, texts);
}
