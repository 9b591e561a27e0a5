/**
 * Judge holes and the screws that go through them: clearance, bolt circle, spacing.
 * Mirrors spares/domain/fit/judges/holes.py.
 */

import { Fraction } from "../../fraction.js";
import { exact, formatNumber, formatQuantity } from "../../units.js";
import { makeClaim } from "../claims.js";
import { compareAmount } from "../compare.js";
import { comparator } from "../limits.js";
import { PIPES, parseThread } from "../designations/threads.js";
import { differs, match, unknown, warn } from "../finding.js";
import { amount, amountText, bounds, isAbsent, part, word } from "../reading.js";
import { show } from "../showing.js";
import { asGiven, isAmount, notStated } from "./plain.js";
import { judgeThread } from "./threads.js";

const SIN_DIGITS = 9;
export const WIDER = Fraction.of("1.05");    // of what is asked: that much wider needs no word
const WIDE = Fraction.of("1.2");      // where no table tells which screw it is for; proposed here
const WASHER = Fraction.of("1.5");
const RIM = Fraction.of("0.9");       // of its washer that a hole may take; proposed here

/** Judge studs against the part's thread, or against its plain holes. */
export function judgeBoltThread(ctx, attribute, asked, offered) {
  if (asked === null) return notStated(attribute, asked);
  const hole = ctx.offeredAmount("bolt_hole");
  if (offered !== null && !isAbsent(offered.value)) {
    return judgeThread(ctx, attribute, asked, offered);
  }
  if (hole === null) return notStated(attribute, asked);
  const least = clearance(ctx.book, asked.value);
  const texts = { required: show(asked.value), offered: `holes of ${amountText(hole)}` };
  if (!least) {
    return unknown("no clearance hole is known for this thread", attribute.measure, texts);
  }
  const close = makeClaim(attribute.code, least[0], { cmp: "at-least" });
  return { ...holeFound(ctx, attribute, close, hole, least), ...texts };
}

/** Judge holes in a flange against the studs, given as a diameter or as a thread. */
export function judgeBoltHole(ctx, attribute, asked, offered) {
  if (isAbsent(offered.value)) {
    return differs("there are no holes", { barred: "holes would have to be laid out anew" });
  }
  const [value, holes] = [asked, offered].map((claim) => part(claim.value, "value"));
  const row = clearance(ctx.book, value);
  if (!isAmount(attribute, holes) || (!row && !isAmount(attribute, asked.value))) {
    return holesInWords(attribute, asked, offered);
  }
  const have = amount(ctx.book, attribute, offered);
  if (row) {
    const close = { ...asked, value: row[0], unit: null, cmp: "at-least" };
    return { ...holeFound(ctx, attribute, close, have, row),
      required: `${show(value)}: ≥ ${formatNumber(row[0], 1, 1)} mm` };
  }
  const studs = ctx.askedClaim("bolt_thread");
  return holeFound(ctx, attribute, asked, have, studs ? clearance(ctx.book, studs.value) : null);
}

/** Judge the bolt circle, or the spacing of neighbouring holes, by the one that was measured. */
export function judgeBoltCircle(ctx, attribute, asked, offered) {
  if (asked === null) return notStated(attribute, asked);
  if (offered !== null) {
    return isAbsent(offered.value) ? differs(`there is none: ${attribute.why}`)
      : compareAmount(ctx.book, attribute, asked, amount(ctx.book, attribute, offered));
  }
  const other = { bolt_circle: "hole_spacing", hole_spacing: "bolt_circle" }[attribute.code];
  const [size, count] = [ctx.offeredAmount(other), ctx.offeredAmount("bolt_count")];
  if (!size || !count || count.amount.below(2) || !count.amount.isWhole) {
    return notStated(attribute, asked);
  }
  const share = Fraction.of(Math.sin(Math.PI / Number(count.amount.top)).toFixed(SIN_DIGITS));
  const factor = other === "hole_spacing" ? Fraction.of(1).over(share) : share;
  const derived = { amount: size.amount.times(factor), u: size.u.times(factor), unit: "mm" };
  const found = compareAmount(ctx.book, attribute, asked, derived);
  return { ...found, reason: `${found.reason} (circle = spacing / sin(180° / `
    + `${formatNumber(count.amount)}))` };
}

/** Give the close, normal and coarse clearance holes of a thread [mm], or null. */
export function clearance(book, thread_text) {
  const threads = typeof thread_text === "string" ? parseThread(book, thread_text) : [];
  if (threads.length !== 1 || PIPES.includes(threads[0].family)) return null;
  const [{ family, size, major }] = threads;
  const row = family === "M"
    ? book.table("clearance_holes").records.find((one) => exact(one.d_mm).equals(major))
    : book.table("clearance_holes_inch").find({ size });
  return row ? holesOf(row) : null;
}

/**
 * Look whether a hole that lets the screw pass is one that a washer can bridge. Washers of ISO 7089
 * reach at least half as far again as the coarse hole of ISO 273.
 * @param {object|null} washer outside of the washer that comes with the screw [mm]
 */
export function wideHole(found, hole, coarse, measure, washer = null) {
  if (hole.amount.atMost(coarse)) return found;
  const texts = { required: found.required, offered: found.offered };
  const [most, u] = washer === null ? [coarse.times(WASHER), hole.u]
    : [washer.amount.times(RIM), hole.u.plus(washer.u.times(RIM))];
  const whose = washer === null ? "a usual washer" : "its washer";
  if (hole.amount.minus(u).atLeast(most)) {
    return differs(`so wide that ${whose} does not bear on it `
      + `(${formatNumber(most, 1)} mm or more)`,
      { side: "more", barred: "head and washer would go through", ...texts });
  }
  if (hole.amount.plus(u).above(most)) {
    return unknown("the reading is too coarse to tell whether a washer bridges it", measure, texts);
  }
  return warn(found,
    `wider than ${formatNumber(coarse, 1)} mm, so that a washer must bridge it`);
}

const greater = (a, b) => (a.above(b) ? a : b);

/** Judge holes that are told, not measured: slots for slots; else a diameter is needed. */
function holesInWords(attribute, asked, offered) {
  const texts = asGiven(asked, offered);
  return word(texts.required) === word(texts.offered) ? match("as asked", texts)
    : unknown("holes that are told in words cannot be compared with a diameter",
      attribute.measure, texts);
}

const holesOf = (row) => [row.close_mm, row.normal_mm, row.coarse_mm].map(exact);

/** Give the least and the greatest hole that is asked, null where there is no such end. */
function endsOf(book, attribute, asked) {
  const how = comparator(attribute, asked);
  if (how === "range") {
    return bounds(book, attribute, asked).slice(0, 2).map((end) => end && end.amount);
  }
  if (!["at-least", "tol", "equal"].includes(how)) return [null, null];
  const wanted = amount(book, attribute, asked).amount;
  return [wanted, how === "at-least" ? null : wanted];
}

function holeFound(ctx, attribute, asked, have, known) {
  const found = compareAmount(ctx.book, attribute, asked, have);
  const [limit, most] = endsOf(ctx.book, attribute, asked);
  if (found.result === "match" && limit !== null && most === null) {
    const coarse = known ? greater(known[2], limit.times(WIDER)) : limit.times(WIDE);
    return wideHole(found, have, coarse, attribute.measure);
  }
  if (found.result !== "differs" || found.side !== "less" || limit === null) return found;
  const pilot = ctx.offered.get("pilot_diameter")?.[0];
  if (pilot && isAbsent(pilot.value)) {
    return { ...found, barred: "no pilot: the holes locate the pump" };
  }
  const row = known ?? ctx.book.table("clearance_holes").records.map(holesOf)
    .find(([close]) => close.equals(limit)) ?? [];
  const least = ctx.book.table("clearance_holes").records.map((one) => holesOf(one)[0])
    .filter((close) => close.below(limit))
    .reduce((best, close) => (best === null || close.above(best) ? close : best), null) ?? limit;
  if (have.amount.plus(have.u).below(least)) {
    return { ...found, barred: "more than one size too small to be drilled" };
  }
  const target = row.slice(1).find((size) => size.atLeast(limit)) ?? limit;
  return { ...found, detail: `drill to ${formatQuantity({ amount: target, unit: "mm" })}`,
    change: "drill-holes" };
}
