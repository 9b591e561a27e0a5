/**
 * Judge hoses and clamps: bore on the spigot, wall, standard, range on the hose as it sits.
 * Mirrors spares/domain/fit/judges/hoses.py.
 */

import { Fraction, most } from "../../fraction.js";
import { formatNumber } from "../../units.js";
import { isNone, textOf } from "../../values.js";
import { placeNumber } from "../context.js";
import { differs, match, unknown, warn } from "../finding.js";
import { reaches } from "../limits.js";
import { amount, amountText, bounds, isAbsent, isRange, part } from "../reading.js";
import { listed, spanText } from "../showing.js";
import { isAmount, judgeAbsent, judgeQuantity, judgeWord, plainWord, textsOf } from "./plain.js";

// bore against spigot [mm]; proposed here
const [TIGHTER, WIDER, MARGIN] = [Fraction.of(1), Fraction.of("0.5"), Fraction.of(1)];
const ANY_HOSE_C = Fraction.of(50);      // the poorest water hose; common practice, no source
const NEXT_STANDARD = /[;,/]|\band\b|(?=\b(?:iso|sae|uscg|abyc|nmma)\b)/;
const SILENT = ["class", "type", "sae", "en", "bs", "din"];
const DENIED = /\b(?:not|no|non|without|except)\b/;
const TWO_NUMBERS = /\d\s*(-|–|…|to)\s*\d/;

/** Tell whether a place is hotter than every hose bears. */
export const someHoseSoftens = (book, place) => !isNone(place.temperature_c)
  && placeNumber(place, "temperature_c").above(ANY_HOSE_C);

/** Judge the heat that a hose bears. */
export const judgeHoseHeat = judgeQuantity;

/** Judge the bore of a hose on a spigot: 1.0 under to 0.5 mm over. */
export function judgeSpigot(ctx, attribute, asked) {
  const [spigot, bore] = [amount(ctx.book, attribute, asked), ctx.offeredAmount("bore")];
  const text = `spigot ${amountText(spigot)}`;
  if (bore === null) {
    return unknown("the bore of the hose was not measured",
      "bore of the hose: cone, or the printed line", { required: text });
  }
  const [low, high] = [spigot.amount.minus(TIGHTER), spigot.amount.plus(WIDER)];
  const texts = { required: `${text}: bore ${formatNumber(low, 1, 1)} to `
    + `${formatNumber(high, 1, 1)} mm`, offered: amountText(bore) };
  return inside(attribute, bore.amount, { low, high, u: spigot.u.plus(bore.u) }, texts);
}

/** Judge the wall; a suction hose must not collapse, a stiffer one always serves. */
export function judgeWall(ctx, attribute, asked, offered) {
  const have = plainWord(attribute, listed(offered.value)[0]);
  const wanted = asked === null ? ["wire"]
    : listed(asked.value).map((value) => plainWord(attribute, value));
  const texts = { required: wanted.join(" or "), offered: have };
  if (asked !== null && wanted.length === 1 && wanted[0] === "soft" && have === "wire") {
    return warn(match("stiffer than asked", texts), "a wire hose bends less: look at the run");
  }
  return wanted.includes(have) ? match("as asked", texts)
    : differs(`not as asked: ${attribute.why}`, texts);
}

/** Judge a printed standard: all that is asked of one must stand beside that one. */
export function judgeStandard(ctx, attribute, asked, offered) {
  const [wanted, have] = [listed(asked.value), listed(offered.value)];
  const texts = textsOf(asked, offered);
  if (have.some(isAbsent)) return judgeWord(ctx, attribute, asked, offered);
  if (have.some((value) => DENIED.test(textOf(value).toLowerCase()))) {
    return unknown("what is printed denies something: name what it does meet",
      attribute.measure, texts);
  }
  const [asks, printed] = [wanted.map(standards), have.flatMap(standards)];
  const holds = (whole, part) => [...part].every((one) => whole.has(one));
  if (asks.some((ask) => ask.every((one) => printed.some((line) => holds(line, one))))) {
    return match("printed as asked", texts);
  }
  if (asks.flat().some((one) => printed
    .some((line) => holds(one, line) && line.size < one.size))) {
    return unknown("the class is not printed", attribute.measure, texts);
  }
  return differs(`another standard or class: ${attribute.why}`, texts);
}

/** Judge the hose, as it sits on the spigot, against the range of the clamp. */
export function judgeOnDiameter(ctx, attribute, asked) {
  const [hose, claim] = [amount(ctx.book, attribute, asked), ctx.offeredClaim("range")];
  const required = `hose ${amountText(hose)} on the spigot`;
  if (claim === null) {
    return unknown("the range of the clamp is not known", "range: stamp on the band", { required });
  }
  return rangeHolds(ctx, attribute, hose, claim, required);
}

/** Judge a range: it must cover the one that is asked, or the diameter that is asked. */
export function judgeSpan(ctx, attribute, asked, offered) {
  const absent = judgeAbsent(attribute, asked, offered);
  if (absent) return absent;
  const is_span = isRange(asked.value)
    || (typeof asked.value === "string" && TWO_NUMBERS.test(asked.value));
  if (!is_span) {
    const hose = amount(ctx.book, attribute, asked);
    return rangeHolds(ctx, attribute, hose, offered, `covers ${amountText(hose)}`);
  }
  const [want, have] = [bounds(ctx.book, attribute, asked), offeredEnds(ctx.book, attribute, offered)];
  const texts = { required: spanText(want), offered: spanText(have) };
  if ([...want.slice(0, 2), ...have.slice(0, 2)].includes(null)) {
    return unknown("an end of the range is not known", attribute.measure, texts);
  }
  const ends = [1n, -1n].map((sign, n) => reaches(want[n].amount.times(sign),
    have[n].amount.times(sign), want[n].u.plus(have[n].u)));
  if (ends.every(Boolean)) return match("covers the range asked", texts);
  return ends.includes(false) ? differs(`does not cover the range asked: ${attribute.why}`, texts)
    : unknown("read too coarsely to tell", attribute.measure, texts);
}

function rangeHolds(ctx, attribute, hose, claim, required) {
  const [low, high] = offeredEnds(ctx.book, ctx.sheet.attributes.get("range"), claim);
  const texts = { required, offered: spanText([low, high]) };
  if (!low || !high) {
    return unknown("an end of the range is not known", "range: stamp on the band", texts);
  }
  const found = inside(attribute, hose.amount, { low: low.amount.plus(MARGIN),
    high: high.amount.minus(MARGIN), u: hose.u.plus(most(low.u, high.u)) }, texts);
  const third = high.amount.minus(low.amount).over(3n);
  const middle = hose.amount.atLeast(low.amount.plus(third))
    && hose.amount.atMost(high.amount.minus(third));
  return found.result === "match" && !middle
    ? warn(found, "outside the middle third of its range, which is best") : found;
}

/** Give the ends of an offered range; a number alone says neither. */
function offeredEnds(book, attribute, claim) {
  const plain = part(claim.value, "value");
  return !isNone(plain) && isAmount(attribute, plain) ? [null, null, true]
    : bounds(book, attribute, claim);
}

function inside(attribute, value, { low, high, u }, texts) {
  const results = [reaches(value, low, u), reaches(value.negated(), high.negated(), u)];
  if (results.every(Boolean)) return match("inside", texts);
  if (results.includes(false)) {
    return differs(`outside: ${attribute.why}`, { side: value.below(low) ? "less" : "more",
      ...texts });
  }
  return unknown("read too coarsely to tell", attribute.measure, texts);
}

/** Part a printed line into its standards, each with the classes that stand beside it. */
const standards = (value) => textOf(value).toLowerCase().split(NEXT_STANDARD).map(tokens)
  .filter((words) => words.size);

// a class of a letter and a digit is one word: A2 is not what A1 and B2 say together
const tokens = (text) => new Set((text.match(/[a-z]\d{1,2}(?!\d)|[a-z]+|\d+/g) ?? [])
  .filter((one) => !SILENT.includes(one)));
