/**
 * Judge fuses: rating against the one asked and against the wire, colour against rating.
 * Mirrors spares/domain/fit/judges/fuses.py.
 */

import { ZERO } from "../../fraction.js";
import { exact, formatNumber } from "../../units.js";
import { isNone } from "../../values.js";
import { compareAmount } from "../compare.js";
import { comparator } from "../limits.js";
import { placeNumber } from "../context.js";
import { caution, differs, match, unknown, warn, worst } from "../finding.js";
import { amount, amountText, isAbsent } from "../reading.js";
import { listed } from "../showing.js";
import { judgeWord, plainWord } from "./plain.js";

const HEATS = [60, 70, 105];      // columns of the table of wires [°C]
const WIRE = ["current that a wire bears"];

/** Judge the rating: never higher, a lower one for a while; never above the wire. */
export function judgeRating(ctx, attribute, asked, offered) {
  if (isAbsent(offered.value)) return unknown("no rating is marked", attribute.measure);
  const have = amount(ctx.book, attribute, offered);
  const findings = asked === null ? [] : [byRating(ctx, attribute, asked, have)];
  if (!isNone(ctx.place.wire_mm2)) findings.push(byWire(ctx, have));
  return findings.length ? worst(...findings)
    : match("nothing is asked of it", { offered: amountText(have) });
}

function byRating(ctx, attribute, asked, have) {
  const found = compareAmount(ctx.book, attribute, asked, have);
  if (found.result !== "differs") return found;
  if (found.side === "less" && ["equal", "tol", "at-least"].includes(comparator(attribute, asked))) {
    return { ...found, change: "lower-fuse", detail: `${amountText(have)} for a while, load under `
      + `75 % of it: ${formatNumber(have.amount.times(3n).over(4n), 1)} A` };
  }
  return found.side === "more" ? { ...found, barred: "never a higher rating" } : found;
}

/** Judge the colour: against the one asked, and against the rating that is stated. */
export function judgeColour(ctx, attribute, asked, offered) {
  const colour = plainWord(attribute, listed(offered.value)[0]);
  const said = ctx.offeredWord("form") ?? "";
  const rating = ctx.offeredAmount("rating_a") ?? ctx.askedAmount("rating_a");
  const form = ctx.sheet.attributes.get("form").aliases.get(said) ?? said;
  const findings = asked === null ? [] : [judgeWord(ctx, attribute, asked, offered)];
  const usual = rating && (ctx.book.table("fuses_blade").findAll({ form })
    .find((row) => exact(row.rating_a).equals(rating.amount))?.colour ?? null);
  if (usual && usual !== colour) {
    findings.push(caution(`${amountText(rating)} of this form is ${usual}, this is ${colour}: `
      + "read the number on it", { offered: colour }));
  }
  return findings.length ? worst(...findings) : match("nothing speaks against it", { offered: colour });
}

/** Judge by the wire: what its insulation bears, else what usual insulation does. */
function byWire(ctx, have) {
  const area = placeNumber(ctx.place, "wire_mm2");
  const wires = ctx.book.table("wire_ampacity").records;
  const row = wires.filter((one) => exact(one.area_mm2).atMost(area)).at(-1);
  const texts = { required: `wire of ${formatNumber(area)} mm²`, offered: amountText(have),
    rests_on: WIRE };
  if (!row) return unknown("no table has such a thin wire", "ask what the wire bears", texts);
  const [sure, most] = bears(ctx, row);
  if (have.amount.above(sure) && area.above(exact(wires.at(-1).area_mm2))) {
    return unknown("no table has such a thick wire", "ask what the wire bears", texts);
  }
  if (have.amount.above(most)) {
    return differs("above what the wire bears: fire",
      { side: "more", barred: "never above what the wire bears", ...texts });
  }
  if (have.amount.above(sure)) {
    // a rating that is recorded says what was meant, not what the wire is
    return unknown("the wire bears it only with insulation for more heat than is known of it",
      "print on the wire: heat that its insulation bears; record it with the place", texts);
  }
  const found = match("the wire bears it", texts);
  return isNone(ctx.place.wire_insulation_c) && have.amount.above(exact(row.i60_a))
    ? warn(found, "that holds for insulation of 70 °C or more: look at the print on the wire")
    : found;
}

/** Give what the wire bears for sure, and the most that it may bear [A]. */
function bears(ctx, row) {
  if (isNone(ctx.place.wire_insulation_c)) return [exact(row.i70_a), exact(row.i105_a)];
  const heat = placeNumber(ctx.place, "wire_insulation_c");
  const below = HEATS.findLast((one) => heat.atLeast(one));
  const above = HEATS.find((one) => heat.atMost(one)) ?? HEATS.at(-1);
  return [below ? exact(row[`i${below}_a`]) : ZERO, exact(row[`i${above}_a`])];
}
