/**
 * Judges of plain attributes: amounts, words, yes or no, ranks, and what may be any.
 * Mirrors spares/domain/fit/judges/plain.py.
 */

import { InvalidInput, UnknownUnit } from "../../errors.js";
import { parseQuantity } from "../../units.js";
import { isNone, isParts } from "../../values.js";
import { where } from "../claims.js";
import { compareAmount } from "../compare.js";
import { differs, match, unknown, warn } from "../finding.js";
import { comparator } from "../limits.js";
import { amount, dayText, flag, isAbsent, isRange, part, word } from "../reading.js";
import { anyOf, listed, show } from "../showing.js";
import { judgeThread, looksLikeThread } from "./threads.js";

const OPPOSITE = { male: "female", female: "male", external: "female", internal: "male" };
const PLAIN_SIDE = { external: "male", internal: "female" };

/** Print what is asked and what is offered. */
export const textsOf = (asked, offered) => ({ required: anyOf(listed(asked.value)),
  offered: listed(offered.value).map(show).join(", ") });

/** Print the two values as they were given. */
export const asGiven = (asked, offered) => ({ required: show(asked.value),
  offered: show(offered.value) });

/** Judge amounts; `none` on either side means looked for, not there. */
export function judgeQuantity(ctx, attribute, asked, offered) {
  const absent = judgeAbsent(attribute, asked, offered);
  if (absent) return absent;
  if (Array.isArray(offered.value)) {
    throw InvalidInput.at(`${where(offered)}/value`, "one amount is needed");
  }
  const have = amount(ctx.book, attribute, offered);
  const found = compareAmount(ctx.book, attribute, asked, have);
  return attribute.caution && found.result === "match" ? warn(found, attribute.caution) : found;
}

/** Judge the case that one side says `none`; it matches nothing but `none`. Null where neither does. */
export function judgeAbsent(attribute, asked, offered) {
  const [wanted, have] = [asked, offered].map((claim) => isAbsent(part(claim.value, "value")));
  if (!wanted && !have) return null;
  const texts = asGiven(asked, offered);
  if (wanted && have) return match("neither is there, as asked", texts);
  return have ? differs(`looked for, not there: ${attribute.why}`, texts)
    : differs(`there must be none: ${attribute.why}`, texts);
}

/** Judge words: equal, or one of several; case, spaces and hyphens do not count. */
export function judgeWord(ctx, attribute, asked, offered) {
  const [wanted, have] = [listed(asked.value), listed(offered.value)];
  const texts = textsOf(asked, offered);
  const words = wanted.map((value) => plainWord(attribute, value));
  if (comparator(attribute, asked) === "mates") return mates(attribute, words, have, texts);
  const inside = have.map((value) => words.includes(plainWord(attribute, value)));
  if (!(attribute.offered_any ? inside.some(Boolean) : inside.every(Boolean))) {
    return differs(`not as asked: ${attribute.why}`, texts);
  }
  const found = match("as asked", texts);
  if (wanted.length < 2 || word(have[0]) === word(wanted[0])) return found;
  return warn(found, `${show(have[0])} is allowed, ${show(wanted[0])} would be the first choice`);
}

/** Judge yes and no. With `at-least`, yes serves where no is asked too. */
export function judgeFlag(ctx, attribute, asked, offered) {
  const [wanted, have] = [flag(asked.value), flag(offered.value)];
  if (Array.isArray(asked.value) || Array.isArray(offered.value) || wanted === null
    || have === null) return judgeWord(ctx, attribute, asked, offered);
  const texts = asGiven(asked, offered);
  if (wanted === have || (comparator(attribute, asked) === "at-least" && have)) {
    return match("as asked", texts);
  }
  const reason = isAbsent(offered.value) ? "looked for, not there" : "not as asked";
  return differs(`${reason}: ${attribute.why}`, { side: have ? "more" : "less", ...texts });
}

/** Judge words that have an order, poorest first. */
export function judgeRank(ctx, attribute, asked, offered) {
  const absent = judgeAbsent(attribute, asked, offered);
  if (absent) return absent;
  const order = attribute.ranks.map(word);
  const wanted = listed(asked.value);
  const words = wanted.map(word);
  const have = word(part(offered.value, "value"));
  const texts = { required: anyOf(wanted), offered: show(offered.value) };
  if (words.includes(have)) return match("as asked", texts);
  const how = comparator(attribute, asked);
  const place = (one) => order.lastIndexOf(one);
  if (place(have) < 0 || words.some((one) => place(one) < 0)) {
    return how === "equal" ? differs(`not as asked: ${attribute.why}`, texts)
      : unknown(`no such grade is known here: ${attribute.why}`, attribute.measure, texts);
  }
  const better = place(have) > Math.min(...words.map(place));
  if ((how === "at-least" && better) || (how === "at-most" && !better)) {
    return match(better ? "better than asked" : "below the limit", texts);
  }
  return differs(`not as asked: ${attribute.why}`, { side: better ? "more" : "less", ...texts });
}

/** Judge an attribute that may be an amount, a thread or a word. */
export function judgeAny(ctx, attribute, asked, offered) {
  const threads = [asked, offered].map((claim) => looksLikeThread(ctx.book, claim.value));
  const other = show(threads[0] ? offered.value : asked.value);
  if (threads.every(Boolean) || (threads.some(Boolean) && /\d/.test(other))) {
    return judgeThread(ctx, attribute, asked, offered);
  }
  const values = [...listed(asked.value), ...listed(offered.value)];
  if (values.some((value) => typeof value === "boolean")) {
    return judgeFlag(ctx, attribute, asked, offered);
  }
  if (values.every((value) => isAmount(attribute, value)) && !Array.isArray(offered.value)) {
    return judgeQuantity(ctx, attribute, asked, offered);
  }
  return judgeAbsent(attribute, asked, offered) ?? judgeWord(ctx, attribute, asked, offered);
}

/** Judge a code that cannot be read: equal to the letter, or nobody can tell. */
export function judgeCode(ctx, attribute, asked, offered) {
  const [wanted, have] = [listed(asked.value), show(offered.value)];
  const texts = { required: anyOf(wanted), offered: have };
  if (wanted.map(show).includes(have)) return match("the same code to the letter", texts);
  return unknown("the code cannot be read here, and codes that look alike may differ",
    "measure what the code stands for, or ask the maker", texts);
}

/** Judge dates, which may be cut to what is known. */
export function judgeDay(ctx, attribute, asked, offered) {
  const [wanted, have] = [dayText(asked.value), dayText(offered.value)];
  const size = Math.min(wanted.length, have.length);
  const [limit, day] = [wanted.slice(0, size), have.slice(0, size)];
  const how = comparator(attribute, asked);
  const good = how === "at-least" ? day >= limit : how === "at-most" ? day <= limit
    : have.startsWith(wanted);
  const texts = asGiven(asked, offered);
  if (have !== wanted && wanted.startsWith(have)) {
    return unknown("the date is not known closely enough to tell", attribute.measure, texts);
  }
  return good ? match("as asked", texts) : differs(`not as asked: ${attribute.why}`, texts);
}

/** Give the word by which a value is compared, other names of the sheet put right. */
export function plainWord(attribute, value) {
  const said = word(value);
  return attribute.aliases.get(said) ?? said;
}

/** Tell whether a value can be read as an amount or a range; `2 circlips` cannot. */
export function isAmount(attribute, value) {
  if (isParts(value)) return isRange(value);
  if (typeof value !== "string") return typeof value === "number";
  try {
    parseQuantity(value, attribute.unit || "1");
  } catch (error) {
    if (error instanceof UnknownUnit) return false;
    throw error;
  }
  return true;
}

/** Judge words that must be opposite: male goes into female. */
function mates(attribute, wanted, have, texts) {
  const goes = wanted.map((one) => OPPOSITE[one]);
  const said = word(have[0]);
  if (goes.some(isNone)) return unknown("what is asked cannot be read", attribute.measure, texts);
  if (goes.includes(PLAIN_SIDE[said] ?? said)) return match("the two sides go together", texts);
  return differs(`both on the same side: ${attribute.why}`, texts);
}

/** Find that the part does not say. */
export const notStated = (attribute, asked) => unknown("not measured", `on the part: ${attribute.measure}`,
  { required: asked === null ? null : show(asked.value) });
