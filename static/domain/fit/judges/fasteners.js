/**
 * Judge fasteners: hand, engagement, holes, strength, metal against metal.
 * Mirrors spares/domain/fit/judges/fasteners.py.
 */

import { Fraction, least, most } from "../../fraction.js";
import { exact, formatNumber } from "../../units.js";
import { isNone, textOf } from "../../values.js";
import { makeClaim } from "../claims.js";
import { compareAmount } from "../compare.js";
import { parseThread, threadText } from "../designations/threads.js";
import { caution, differs, match, unknown, warn } from "../finding.js";
import { comparator } from "../limits.js";
import { amount, amountText, part, word } from "../reading.js";
import { anyOf, listed, show } from "../showing.js";
import { clearance, wideHole } from "./holes.js";
import { family, isNoble, judgeMaterial, means } from "./materials.js";
import { judgeWord } from "./plain.js";

// Engagement in diameters, by the metal of the thread; from memory.
const DIAMETERS = { aluminium: "1.5", plastic: "2", steel: "1", iron: "1", stainless: "1",
  bronze: "1", brass: "1" };
const [LEAST, MOST] = ["1", "2"];
const NUT = /^(?:A[124]\s*-\s*)?([1-9]\d?)(?:[.]\d)?$/;      // 8; 8.8 of the screw
const STAINLESS_NUTS = [50, 70, 80];
const GRADE = /^(SAE)?(J429)?(GRADE)/;
const STAINLESS = /^\s*A([1-5])\b/i;
const SEA_PROOF = ["4", "5"];      // of the stainless A1 to A5; from memory
const ACTIVE = ["aluminium", "iron", "magnesium", "steel", "zinc"];
const RULE = ["engagement of 1.0, 1.5 and 2 diameters"];

/** Judge the hand; a written thread without LH is right hand. */
export function judgeHand(ctx, attribute, asked, offered) {
  if (asked === null) return notMeasured(attribute);
  if (offered !== null) return judgeWord(ctx, attribute, asked, offered);
  const thread = theThread(ctx.book, ctx.offeredClaim("thread"));
  if (!thread) return notMeasured(attribute, { required: show(asked.value) });
  return judgeWord(ctx, attribute, asked,
    makeClaim("hand", thread.left ? "left" : "right", { pointer: "#/offers/thread" }));
}

/** Judge the engagement: as offered, or length minus stack. */
export function judgeEngagement(ctx, attribute, asked, offered) {
  if (asked === null) return notMeasured(attribute);
  const have = offered === null ? engages(ctx) : amount(ctx.book, attribute, offered);
  if (have === null) {
    return unknown("length of the screw and stack under its head are not both known",
      `on the part: ${attribute.measure}`);
  }
  const found = compareAmount(ctx.book, attribute, asked, have);
  return offered !== null ? found
    : { ...found, reason: `${found.reason} (length - stack = ${amountText(have)})` };
}

/** Judge what engages when a stack lies under the head. */
export function judgeStack(ctx, attribute, asked) {
  const [stack, have] = [amount(ctx.book, attribute, asked), engages(ctx)];
  const required = `stack of ${amountText(stack)}`;
  if (have === null) {
    return unknown("the length of the screw was not measured", "length under the head: calipers",
      { required });
  }
  const texts = { required, offered: `engages ${amountText(have)}` };
  const limits = engagementLimits(ctx);
  if (!limits) {
    return unknown("the thread is not known, and so how far it must engage",
      "thread: calipers on the crest and pitch gauge", texts);
  }
  const { low, high, rests_on } = limits;
  const told = { ...texts, rests_on };
  if (have.amount.minus(have.u).atLeast(high)) {
    return match(`engages ${amountText(have)}, ${formatNumber(high)} mm are enough`, told);
  }
  if (have.amount.plus(have.u).below(low)) {
    return differs(`engages ${amountText(have)}, ${formatNumber(low)} mm are needed: strips`,
      { side: "less", ...told });
  }
  return unknown("whether that is enough depends on the metal of the thread",
    "say of what metal the thread is", told);
}

/** Give the least engagement that may do and that which surely does [mm]; null where not known. */
function engagementLimits(ctx) {
  const need = ctx.askedAmount("engagement");
  if (need) return { low: need.amount, high: need.amount, rests_on: [] };
  const thread = eitherThread(ctx);
  if (!thread) return null;
  const metal = ctx.place.mating_metal ?? null;
  const name = family(ctx.book, metal) || textOf(metal);
  const factor = Object.hasOwn(DIAMETERS, name) ? DIAMETERS[name] : null;
  const [low, high] = [factor ?? LEAST, factor ?? MOST].map((times) => thread.major.times(times));
  return { low, high, rests_on: RULE };
}

/** Judge a plain hole against the thread of the screw. */
export function judgeHoleDiameter(ctx, attribute, asked) {
  const [hole, claim] = [amount(ctx.book, attribute, asked), ctx.offeredClaim("thread")];
  const thread = theThread(ctx.book, claim);
  const required = `hole of ${amountText(hole)}`;
  if (!thread) {
    return unknown("the thread of the screw is not known", "thread: calipers on the crest",
      { required });
  }
  const [close, normal, coarse] = clearance(ctx.book, claim.value) ?? [thread.major.plus("0.2"),
    thread.major.times("1.1"), thread.major.times("1.2")];
  const texts = { required, offered: threadText(ctx.book, thread) };
  if (hole.amount.minus(hole.u).atLeast(close)) {
    const found = wideHole(match("the screw passes", texts), hole, coarse, attribute.measure,
      ctx.offeredAmount("washer_outside_diameter"));
    return found.cautions?.length ? caution(found.cautions[0], texts) : found;
  }
  if (!hole.u.isZero && hole.amount.plus(hole.u).atLeast(close)) {
    return unknown("read too coarsely to tell", attribute.measure, texts);
  }
  return differs(`under the close hole of ${formatNumber(close)} mm: ${attribute.why}`,
    { side: "less", detail: `drill to ${formatNumber(normal, 1, 1)} mm`, ...texts });
}

/** Judge strength by proof stress; a class that no table has is compared to the letter. */
export function judgePropertyClass(ctx, attribute, asked, offered) {
  const found = byLetter(attribute, asked, offered);
  if (found) return found;
  const { wanted, have, texts } = classesOf(asked, offered);
  const thread = eitherThread(ctx);
  const how = comparator(attribute, asked);
  const [named, got] = [easiest(ctx, wanted, thread, how === "at-most"), proofOf(ctx.book, have, thread)];
  if (named === null || !got.size) {
    return unknown("the strength of this class is not known here", attribute.measure, texts);
  }
  const need = proofOf(ctx.book, named, thread);
  const remembered = [named, have].some((name) => rowsOf(ctx.book, name)
    .some((row) => row.known === "memory"));
  const told = { ...texts, rests_on: remembered ? ["proof stress of stainless and inch classes"] : [] };
  const stresses = `${formatNumber(extreme(got, least))} MPa for ${formatNumber(extreme(need, most))}`
    + " MPa proof stress";
  if (!isStrongEnough(need, got, how)) {
    if (wanted.some((one) => !proofOf(ctx.book, one, thread).size)) {
      return unknown("the strength of one of these classes is not known here", attribute.measure, told);
    }
    return differs(`${stresses}: ${attribute.why}`, { side: "less", ...told });
  }
  return stainlessForStainless(ctx, match(stresses, told), wanted.map(show), have);
}

/** Look at what a class says of the metal, where strength is enough. */
function stainlessForStainless(ctx, found, wanted, have) {
  const [asked, got] = [wanted.map((name) => STAINLESS.exec(name)), STAINLESS.exec(have)];
  if (!asked.every(Boolean) || (got && asked.some((hit) => hit[1] === got[1]))) return found;
  if (got) {
    const pits = !SEA_PROOF.includes(got[1]) && asked.every((hit) => SEA_PROOF.includes(hit[1]));
    return pits ? warn(found, `A${got[1]} pits in sea water sooner than what is asked`) : found;
  }
  const said = "of the strength asked, but not stainless";
  const texts = { required: found.required, offered: found.offered };
  if (ctx.place.wet === false) return warn(found, `${said}: keep it dry`);
  if (ctx.place.wet || !isNone(ctx.place.medium)) return differs(`${said}: it rusts`, texts);
  return unknown(`${said}, and whether it is wet there is not recorded`,
    "look: does water come to it? record it with the place", texts);
}

/** Tell whether stainless of a wet place would eat the metal that it sits in. */
export const someScrewEats = (book, { wet, mating_metal }) => wet === true
  && means(book, mating_metal) === "aluminium";

const extreme = (stresses, choose) => [...stresses.values()].reduce((a, b) => choose(a, b));

/** Compare by size where both classes have the same sizes, else the weakest with the strongest. */
function isStrongEnough(need, got, how) {
  if (how === "at-most") return extreme(got, most).atMost(extreme(need, least));
  if (extreme(got, least).atLeast(extreme(need, most))) return true;
  const sizes = [...need.keys()];
  return sizes.length === got.size && sizes.every((size) => got.has(size))
    && sizes.every((size) => got.get(size).atLeast(need.get(size)));
}

/** Judge the class of a nut: not below that of the screw. */
export function judgeNutClass(ctx, attribute, asked, offered) {
  const found = byLetter(attribute, asked, offered);
  if (found) return found;
  const { wanted, have, texts } = classesOf(asked, offered);
  const [needs, got] = [wanted.map(nutMpa).filter((mpa) => mpa !== null), nutMpa(have)];
  const need = Math.min(...needs);      // each of several serves
  if (!needs.length || got === null || (got < need && needs.length < wanted.length)) {
    return unknown("the class cannot be read", attribute.measure, texts);
  }
  return got >= need ? match("not below", texts) : differs(`below: ${attribute.why}`, texts);
}

/** Give the class among several that is met soonest; null where the strength of none is known. */
function easiest(ctx, wanted, thread, highest) {
  const known = wanted.map((one) => [one, proofOf(ctx.book, one, thread)]).filter(([, proof]) => proof.size);
  const mark = ([, proof]) => extreme(proof, highest ? least : most);
  const better = (one, other) => ((highest ? mark(one).atLeast(mark(other)) : mark(one).atMost(mark(other))) ? one : other);
  return known.length ? known.reduce(better)[0] : null;
}

/** The classes asked, the one offered, and both as they are shown. */
function classesOf(asked, offered) {
  const [wanted, have] = [listed(asked.value), show(part(offered.value, "value"))];
  return { wanted, have, texts: { required: anyOf(wanted), offered: have } };
}

/** Compare classes as they are written; null where their strength has to decide. */
function byLetter(attribute, asked, offered) {
  const { wanted, have, texts } = classesOf(asked, offered);
  if (wanted.map(word).includes(word(have))) return match("as asked", texts);
  return ["equal", "one-of"].includes(comparator(attribute, asked))
    ? differs(`not as asked: ${attribute.why}`, texts) : null;
}

/** Judge the metal of a screw by the list asked and by the metal that it sits in. */
export function judgeScrewMetal(ctx, attribute, asked, offered) {
  const by_list = judgeMaterial(ctx, attribute, asked, offered);
  const [have, metal] = [listed(offered.value), ctx.place.mating_metal ?? null];
  if (metal === null || by_list.result === "unknown") return by_list;
  if (means(ctx.book, metal) === "aluminium" && have.some((item) => isNoble(ctx.book, item))) {
    if (ctx.place.wet === false) {
      return warn(by_list, "keep it dry: the aluminium suffers where water comes to it");
    }
    return differs(`${show(have[0])} in wet aluminium: the aluminium is eaten`,
      { change: "isolate", detail: "paste on the thread and under the head",
        required: by_list.required, offered: by_list.offered });
  }
  if (family(ctx.book, metal) === "stainless"
    && have.some((item) => family(ctx.book, item) === "stainless")) {
    return warn(by_list, "stainless on stainless galls: lubricate, turn slowly");
  }
  const eaten = have.find((item) => ACTIVE.includes(family(ctx.book, item)));
  if (eaten !== undefined && isNoble(ctx.book, metal) && ctx.place.wet !== false) {
    return warn(by_list,
      `${show(eaten)} in ${show(metal)}: where both are wet the screw is eaten first`);
  }
  return by_list;
}

/** Give the one thread that a written claim means; null where it is measured or not clear. */
function theThread(book, claim) {
  if (claim === null || typeof claim.value !== "string") return null;
  const found = parseThread(book, claim.value);
  return found.length === 1 ? found[0] : null;
}

const eitherThread = (ctx) => theThread(ctx.book, ctx.offeredClaim("thread"))
  ?? theThread(ctx.book, ctx.askedClaim("thread"));

const notMeasured = (attribute, more) => unknown("not measured",
  `on the part: ${attribute.measure}`, more);

function engages(ctx) {
  const own = ctx.offeredAmount("engagement");
  if (own !== null) return own;
  const [length, stack] = [ctx.offeredAmount("length"), ctx.askedAmount("stack")];
  return length === null || stack === null ? null
    : { amount: length.amount.minus(stack.amount), u: length.u.plus(stack.u), unit: "mm" };
}

/**
 * Give the stress under which a nut is tested [MPa], or null; thin nuts (04, 05) bear less than
 * that. A class of steel is a hundredth of it, one of stainless (50, 70, 80) a tenth.
 */
function nutMpa(name) {
  const hit = NUT.exec(textOf(name).trim());
  if (!hit) return null;
  const number = Number(hit[1]);
  return number * (STAINLESS_NUTS.includes(number) ? 10 : 100);
}

function rowsOf(book, name) {
  const plain = (text) => textOf(text).toUpperCase().replace(/\s+/g, "");
  // inch grades need their name: a bare 8 may be a nut's class, or what is left of 8.8
  const wanted = plain(name).replace(GRADE, "SAE");
  return book.table("proof_stress").records.filter((row) => plain(row.class) === wanted);
}

/** Give the proof stress of a class by size; one value where the size is known. */
function proofOf(book, name, thread) {
  const rows = rowsOf(book, name);
  if (!thread || !rows.length) {
    return new Map(rows.map((row) => [row.up_to_d_mm, exact(row.proof_mpa)]));
  }
  const row = rows.find((one) => one.up_to_d_mm === null
    || thread.major.atMost(Fraction.of(one.up_to_d_mm))) ?? rows.at(-1);
  return new Map([["", exact(row.proof_mpa)]]);
}
