/**
 * Judge the sides of bearings: open, shields, seals that touch.
 * Mirrors spares/domain/fit/judges/bearings.py.
 */

import { caution, differs, match, unknown, warn } from "../finding.js";
import { listed, show } from "../showing.js";
import { judgeWord, plainWord } from "./plain.js";

/** Judge the sides; seals instead of shields keep more out and turn heavier. */
export function judgeClosure(ctx, attribute, asked, offered) {
  if (asked === null) {
    return inAWetPlace(attribute, plainWord(attribute, listed(offered.value)[0]),
      { required: "a wet place", offered: show(offered.value) });
  }
  const found = judgeWord(ctx, attribute, asked, offered);
  const wanted = listed(asked.value).map((value) => plainWord(attribute, value));
  const have = plainWord(attribute, listed(offered.value)[0]);
  if (found.result === "match") {
    const splashed = ctx.place.wet && have.startsWith("shield");
    return splashed ? warn(found, "shields do not keep water out") : found;
  }
  if (have.startsWith("seal") && wanted.includes(have.replaceAll("seal", "shield"))) {
    return caution("seals that touch instead of shields: more drag, less speed",
      { required: found.required, offered: found.offered });
  }
  return found;
}

function inAWetPlace(attribute, have, texts) {
  if (have === "seal-both") return match("seals touch on both sides", texts);
  if (have === "seal-one") {
    return unknown("one side is open, and which side is wet is not recorded", attribute.measure,
      texts);
  }
  return differs(`only seals that touch keep water out: ${attribute.why}`, texts);
}
