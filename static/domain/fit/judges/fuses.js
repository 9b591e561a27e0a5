/**
 * Judge fuses: rating against the one asked and against the wire, colour against rating.
 * Mirrors spares/domain/fit/judges/fuses.py.
 */

import { exact, formatNumber } from "../../units.js";
import { isNone } from "../../values.js";
import { compareAmount } from "../compare.js";
import { placeNumber } from "../context.js";
import { caution, differs, match, unknown, warn, worst } from "../finding.js";
import { amount, amountText, isAbsent } from "../reading.js";
import { listed } from "../showing.js";
import { judgeWord, plainWord } from "./plain.js";

const WIRE = ["current that a wire bears"];

/** Judge the rating: never higher, a lower one for a while; never above the wire. */
export function judgeRating(ctx, attribute, asked, offered) {
  if (isAbsent(offered.value)) return unknown("no rating is marked", attribute.measure);
  const have = amount(ctx.book, attribute, offered);
  const findings = asked === null ? [] : [byRating(ctx, attribute, asked, have)];
  if (!isNone(ctx.place.wire_mm2)) findings.push(byWire(ctx, have, asked));
  return findings.length ? worst(...findings)
    : match("nothing is asked of it", { offered: amountText(have) });
}

function byRating(ctx, attribute, asked, have) {
  const found = compareAmount(ctx.book, attribute, asked, have);
  if (found.result !== "differs") return found;
  if (found.side === "less" && [null, "equal", "tol", "at-least"].includes(asked.cmp)) {
    return { ...found, change: "lower-fuse", detail: `${amountText(have)} for a while, load under `
      + `75 % of it: ${formatNumber(have.amount.times(3n).over(4n), 1)} A` };
  }
  return { ...found, barred: "never a higher rating" };
}

/** Judge the colour: against the one asked, and against the rating that is stated. */
export function judgeColour(ctx, attribute, asked, offered) {
  const colour = plainWord(attribute, listed(offered.value)[0]);
  const [said, rating] = [ctx.offeredWord("form") ?? "", ctx.offeredAmount("rating_a")];
  const form = ctx.sheet.attributes.get("form").aliases.get(said) ?? said;
  const findings = asked === null ? [] : [judgeWord(ctx, attribute, asked, offered)];
  const usual = rating && (ctx.book.table("fuses_blade").findAll({ form })
    .find((row) => exact(row.rating_a).equals(rating.amount))?.colour ?? null);
  if (usual && usual !== colour) {
    findings.push(caution(`${amountText(rating)} of this form is ${usual}, this is ${colour}: `
      + "read the number on it", { offered: colour }));
  }
  return findings.length ? worst(...findings) : match("agrees", { offered: colour });
}

function byWire(ctx, have, asked) {
  const area = placeNumber(ctx.place, "wire_mm2");
  const row = ctx.book.table("wire_ampacity").records
    .filter((one) => exact(one.area_mm2).atMost(area)).at(-1);
  const texts = { required: `wire of ${formatNumber(area)} mm²`, offered: amountText(have),
    rests_on: WIRE };
  if (!row) return unknown("no table has such a thin wire", "ask what the wire bears", texts);
  if (have.amount.above(exact(row.i105_a))) {
    return differs("above what the wire bears: fire",
      { side: "more", barred: "never above what the wire bears", ...texts });
  }
  if (!have.amount.above(exact(row.i70_a))) return match("the wire bears it", texts);
  const only = "the wire bears it only with insulation of 105 °C";
  if (asked === null) {     // nobody but the wire says how much it may be
    return unknown(`${only}, and which it has is not recorded`, "print on the wire: heat that its "
      + "insulation bears; then record the rating of this place", texts);
  }
  return warn(match(only, texts),
    `a wire of ${formatNumber(area)} mm² bears ${row.i70_a} A with usual insulation (from memory): `
    + "look what it is");
}
