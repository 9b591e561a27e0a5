/**
 * Judge O-rings: the squeeze that the groove gives, series of codes, heat.
 * Mirrors spares/domain/fit/judges/orings.py.
 */

import { ZERO } from "../../fraction.js";
import { exact, formatNumber } from "../../units.js";
import { isParts } from "../../values.js";
import { compareAmount } from "../compare.js";
import { sectionTolerance } from "../designations/orings.js";
import { caution, differs, match, unknown } from "../finding.js";
import { amount, amountText, part } from "../reading.js";
import { show } from "../showing.js";
import { mostHeat, rubberRow } from "./materials.js";
import { judgeCode } from "./plain.js";

const TOLERANCE = ["tolerance of O-ring sections"];
const MEASURE = "measure the section with calipers at three places";

/** Judge a code: one that was read only tells whether the series is another. */
export function judgeOringCode(ctx, attribute, asked, offered) {
  if (asked === null) return unknown("no code is asked");
  const required = show(asked.value);
  if (!asked.code) {      // it could not be read: to the letter, or nobody can tell
    return offered === null ? unknown("not measured", `on the part: ${attribute.measure}`,
      { required }) : judgeCode(ctx, attribute, asked, offered);
  }
  const texts = { required, offered: offered === null ? null : show(offered.value) };
  return offered !== null && offered.code === asked.code
    ? match("the same series; the sizes decide", texts)
    : caution("another standard or none named: the sizes decide", texts);
}

/** Judge the deepest gland: the least squeeze must still seal. */
export function judgeGlandMax(ctx, attribute, asked) {
  const wrong = crossed(ctx, attribute);
  if (wrong) return wrong;
  const depth = amount(ctx.book, attribute, asked);
  const limit = ctx.askedAmount("min_squeeze");
  const least = limit ? limit.amount : exact(squeezeRange(ctx).least_percent);
  return squeeze(ctx, depth.amount.plus(depth.u), least, `gland ≤ ${amountText(depth)}`);
}

/** Judge the least squeeze, which the deepest gland gives. */
export function judgeMinSqueeze(ctx, attribute, asked) {
  const wrong = crossed(ctx, attribute);
  if (wrong) return wrong;
  const least = amount(ctx.book, attribute, asked);
  const depth = ctx.askedAmount("gland_depth_max") ?? ctx.askedAmount("gland_depth_min");
  const required = `≥ ${amountText(least)}`;
  if (depth === null) {
    return unknown("the depth of the gland is not known", "depth rod in the groove", { required });
  }
  return squeeze(ctx, depth.amount.plus(depth.u), least.amount, required);
}

/** Judge the shallowest gland: the greatest squeeze must not overfill it. */
export function judgeGlandMin(ctx, attribute, asked) {
  const wrong = crossed(ctx, attribute);
  if (wrong) return wrong;
  const depth = amount(ctx.book, attribute, asked);
  const limit = exact(squeezeRange(ctx).most_percent);
  const sections = sectionsOf(ctx);
  const text = `gland ≥ ${amountText(depth)}`;
  if (!sections) return noSection(text);
  const worst = percent(sections[1], depth.amount.minus(depth.u));
  const mildest = percent(sections[0], depth.amount.plus(depth.u));
  const texts = textsFor(ctx, text);
  if (worst.atMost(limit)) {
    return match(`squeeze of ${formatNumber(worst, 1)} % at most (section - depth) / section`, texts);
  }
  if (mildest.above(limit)) {
    return differs(`squeeze of ${formatNumber(mildest, 1)} % at least overfills`, texts);
  }
  return unknown("the section is too close to overfilling to tell", MEASURE, texts);
}

/** Find that the shallowest gland is recorded as deeper than the deepest, or null. */
function crossed(ctx, attribute) {
  const [low, high] = ["gland_depth_min", "gland_depth_max"].map((attr) => ctx.askedAmount(attr));
  if (low === null || high === null || low.amount.atMost(high.amount)) return null;
  return unknown("the shallowest gland is deeper than the deepest: one of the two is wrong",
    `at the fit point: ${attribute.measure}`,
    { required: `${amountText(low)} to ${amountText(high)}` });
}

/** Judge heat by what the maker states; a rubber known to bear less is ruled out. */
export function judgeOringHeat(ctx, attribute, asked, offered) {
  if (asked === null) return unknown("no temperature is asked");
  if (offered !== null) {
    const value = isParts(offered.value) ? part(offered.value, "max") : null;
    return compareAmount(ctx.book, attribute, asked, amount(ctx.book, attribute, offered, value));
  }
  const rubber = ctx.offeredWord("material");
  const row = rubber ? rubberRow(ctx.book, "elastomers", rubber) : null;
  if (row && [null, "at-least"].includes(asked.cmp)) {
    const wanted = amount(ctx.book, attribute, asked);
    const most = mostHeat(row, ctx.place);
    if (exact(most).below(wanted.amount)) {
      return differs(`${row.rubber} bears ${most} °C only`,
        { required: `≥ ${amountText(wanted)}`, rests_on: ["rubber by medium"] });
    }
  }
  return unknown("not stated", `on the part: ${attribute.measure}`);
}

function squeeze(ctx, depth, least, text) {
  const sections = sectionsOf(ctx);
  if (!sections) return noSection(text);
  const [worst, best] = sections.map((section) => percent(section, depth));
  const texts = textsFor(ctx, text);
  const shown = formatNumber(worst, 1);
  if (worst.atLeast(least)) {
    return match(`squeeze of ${shown} % at least (section - depth) / section`, texts);
  }
  if (best.below(least)) {
    return differs(`squeeze from ${shown} to ${formatNumber(best, 1)} %, under `
      + `${formatNumber(least)} %: leak`, texts);
  }
  return unknown(`squeeze of ${shown} % at worst, too close to tell`, MEASURE, texts);
}

/** Give the least and the greatest section that the ring may have [mm]. */
function sectionsOf(ctx) {
  const section = ctx.offeredAmount("section");
  if (section === null || section.amount.atMost(ZERO)) return null;
  let spread = section.u;
  if (spread.isZero) {
    const tolerance = sectionTolerance(ctx.book, section.amount);
    spread = tolerance === null ? section.amount.over(50n) : exact(tolerance);
  }
  return [section.amount.minus(spread), section.amount.plus(spread)];
}

const percent = (section, depth) => section.minus(depth).over(section).times(100n);

function textsFor(ctx, required) {
  const section = ctx.offeredAmount("section");
  const remembered = section !== null && section.u.isZero && !ctx.book.table("orings_as568").records
    .some((row) => exact(row.section_mm).equals(section.amount));
  return { required, offered: `section ${section ? amountText(section) : "?"}`,
    rests_on: remembered ? TOLERANCE : [] };
}

const noSection = (required) => unknown("the section was not measured",
  "section: calipers at three places, no squeeze", { required });

const squeezeRange = (ctx) => ctx.book.table("oring_squeeze").find({ use: "static" }) ?? {};
