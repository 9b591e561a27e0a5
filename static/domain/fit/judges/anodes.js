/** Judge anodes: metal by water, length in its passage. Mirrors spares/domain/fit/judges/anodes.py. */

import { Fraction, ZERO } from "../../fraction.js";
import { formatNumber } from "../../units.js";
import { isParts } from "../../values.js";
import { compareAmount } from "../compare.js";
import { differs, match, unknown, warn } from "../finding.js";
import { amount, amountText, isAbsent } from "../reading.js";
import { listed, show } from "../showing.js";
import { family, judgeMaterial } from "./materials.js";

const CLEAR = Fraction.of(3);          // [mm] left in front of the tubes; proposed here
const LEFT = Fraction.of("0.7");       // share of the metal that must be left

/** Judge the metal by the list asked; without one by the water. */
export function judgeAnodeMetal(ctx, attribute, asked, offered) {
  const medium = ctx.place.medium ?? null;
  const metals = ctx.book.table("anodes_by_water").findAll({ medium }).map((row) => row.metal);
  const good = metals.length > 0
    && listed(offered.value).every((item) => metals.includes(family(ctx.book, item)));
  if (asked !== null) {
    const found = judgeMaterial(ctx, attribute, asked, offered);
    return found.result === "match" && metals.length && !good
      ? warn(found, `in ${medium} ${metals.join(" or ")} is usual: look again`) : found;
  }
  const texts = { required: `${metals.join(" or ")} in ${medium}`, offered: show(offered.value) };
  return good ? match("serves in this water", texts)
    : differs(`not for ${medium}: ${attribute.why}`, texts);
}

/** Judge the length of a pencil; a longer one may be cut while enough metal is left. */
export function judgePencilLength(ctx, attribute, asked, offered) {
  if (isAbsent(offered.value)) {
    return differs("there is no pencil", { required: show(asked.value), offered: "none" });
  }
  const have = amount(ctx.book, attribute, offered);
  const found = compareAmount(ctx.book, attribute, asked, have);
  if (found.result === "match" && found.side === "less" && [null, "at-most"].includes(asked.cmp)) {
    return warn(found, "less metal than the place takes: shorter life");
  }
  if (found.result !== "differs" || found.side !== "more" || isParts(asked.value)
    || Array.isArray(asked.value)) return found;
  return cut(found, amount(ctx.book, attribute, asked).amount, have.amount);
}

/** Judge the passage against the length of the pencil. */
export function judgePassageDepth(ctx, attribute, asked) {
  const [depth, have] = [amount(ctx.book, attribute, asked), ctx.offeredAmount("pencil_length")];
  const required = `passage ${amountText(depth)} deep`;
  if (have === null) {
    return unknown("the pencil was not measured", "length of the pencil: calipers", { required });
  }
  const limit = { ...asked, cmp: "at-most", tol: null };
  const found = { ...compareAmount(ctx.book, attribute, limit, have), required };
  return found.result === "differs" ? cut(found, depth.amount.minus(CLEAR), have.amount) : found;
}

/** Say to what length [mm] a pencil is to be cut, or that too little of it would be left. */
function cut(found, to, have) {
  if (to.atMost(ZERO) || to.over(have).below(LEFT)) {
    return { ...found, barred: "less than 70 % of the metal would be left" };
  }
  return { ...found, detail: `cut to ${formatNumber(to)} mm` };
}
