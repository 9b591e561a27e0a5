/** Put comparisons of amounts into words. Mirrors spares/domain/fit/compare.py. */

import { Fraction } from "../fraction.js";
import { formatNumber, formatQuantity } from "../units.js";
import { differs, match, unknown } from "./finding.js";
import { decide, fromGrains, limitsOf, sideOf, sizeOf } from "./limits.js";
import { amountText } from "./reading.js";

const TOOL_WORDS = { caliper: "calipers", rule: "a steel rule", tape: "a tape" };
const LEAST_SHOWN = Fraction.of("0.001");      // finer than is printed
const FINEST = "a micrometer or better";

/** Compare an offered amount with a claim by its comparator. */
export function compareAmount(book, attribute, asked, offered) {
  const limits = limitsOf(book, attribute, asked);
  return tell(book, attribute, limits, offered, decide(limits, sizeOf(offered)));
}

/** Put a decision into words. */
function tell(book, attribute, limits, offered, made) {
  if (limits.how === "range") return toldRange(book, attribute, { limits, made }, offered);
  if (limits.how === "one-of") return toldOneOf(attribute, { limits, made }, offered);
  const [wanted] = limits.wanted;
  const limit = { "at-least": "≥", "at-most": "≤" }[limits.how];
  const text = limit ? `${limit} ${amountText(wanted)}` : showTolerance(wanted, limits.tols[0]);
  if (made.inside === null && limits.doubt !== 0n && made.u === limits.doubt) {
    const wide = formatNumber(fromGrains(limits.tol + limits.doubt));
    return unknown(`more than ± ${formatNumber(limits.tols[0])}, less than ± ${wide}: which of the two `
      + "this joint needs is not recorded", attribute.measure,
    { required: text, offered: amountText(offered), side: sideOf(made.gap) });
  }
  return told(book, attribute, { made, text }, offered);
}

/** Print a nominal value with its tolerance. */
export function showTolerance(wanted, tol) {
  const shown = formatQuantity(wanted);
  const wide = tol && !tol.isZero ? `${shown} ± ${formatNumber(tol)}` : shown;
  return wanted.u.isZero ? wide : `${wide} (read to ± ${formatNumber(wanted.u)})`;
}

/** Name the coarsest tool that would decide within a tolerance, and how to use it. */
function betterTool(book, attribute, tol) {
  if (attribute.unit !== "mm") return attribute.measure;
  const tool = ["tape", "rule", "caliper", "micrometer"]
    .find((name) => Fraction.of(book.tools[name]).times(3n).atMost(tol));
  return `measure again with ${TOOL_WORDS[tool] ?? FINEST}: ${attribute.measure}`;
}

function told(book, attribute, { made, text }, offered) {
  const side = sideOf(made.gap);
  const texts = { required: text, offered: amountText(offered), side };
  if (made.inside === null) {
    const u = formatNumber(fromGrains(made.u));
    return unknown(`the readings are good to ± ${u} only, too coarse to tell`,
      betterTool(book, attribute, fromGrains(made.tol)), texts);
  }
  if (made.inside) return match(side ? "inside" : "as asked", texts);
  if (!side) return differs(`not as asked: ${attribute.why}`, texts);
  const by = `${gapText(fromGrains(made.gap).abs(), offered.unit)} ${side} than asked`;
  return differs(`${by}: ${attribute.why}`, { detail: by, ...texts });
}

function gapText(gap, unit) {
  const fine = gap.below(LEAST_SHOWN);
  return (fine ? "under " : "") + formatQuantity({ amount: fine ? LEAST_SHOWN : gap, unit });
}

function toldRange(book, attribute, { limits, made }, offered) {
  const text = limits.wanted.map((end) => (end ? amountText(end) : "?")).join(" to ");
  if (made.open_end) {
    const reason = limits.wanted.some(Boolean) ? "one end of the range is not known"
      : "the range is not known";
    return unknown(reason, attribute.measure, { required: text, offered: amountText(offered) });
  }
  return told(book, attribute, { made, text }, offered);
}

function toldOneOf(attribute, { limits, made }, offered) {
  const texts = { required: limits.wanted.map(amountText).join(" or "),
    offered: amountText(offered) };
  if (made.inside) return match("one of those asked", texts);
  if (made.inside === null) {
    return unknown("the reading is too coarse to tell", attribute.measure, texts);
  }
  return differs(`none of those asked: ${attribute.why}`, texts);
}
