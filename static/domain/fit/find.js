/**
 * Find, attribute by attribute, how what is offered stands to what is asked.
 * Mirrors spares/domain/fit/find.py.
 */

import { InvalidInput } from "../errors.js";
import { ZERO, most } from "../fraction.js";
import { isNone, isParts, same } from "../values.js";
import { isAssumed, where } from "./claims.js";
import { match, unknown, warn, worstBy } from "./finding.js";
import { answersAlone, answersByPlace, judgeOf } from "./judges/index.js";
import { amount, cannotBe, isAbsent, tolerance } from "./reading.js";
import { OUTCOMES, weigh } from "./rows.js";
import { offerText, requiredText, show } from "./showing.js";

/** Types whose requirement reads better printed than as it was given. */
const PRINTED = ["quantity", "flow"];

/** Judge everything that is asked of one attribute, perhaps by several origins. */
export function findAsked(ctx, attr, claims) {
  const attribute = ctx.sheet.attributes.get(attr);
  const may = ctx.book.types[attribute.type];
  for (const claim of claims) {
    if (claim.cmp !== null && !may.includes(claim.cmp)) {
      throw InvalidInput.at(`${where(claim)}/cmp`,
        `${attr} cannot be compared by ${claim.cmp}; one of ${may.join(", ")}`);
    }
  }
  const findings = claims.map((claim) => findOne(ctx, attribute, claim));
  if (claims.length === 1) return findings[0];
  if (disagree(ctx, attribute, claims)) {
    const texts = findings.map((one, n) => one.required || show(claims[n].value)).join(" against ");
    return unknown(`two origins do not say the same: ${texts}`, "measure again and withdraw one",
      { required: texts, offered: findings[0].offered });
  }
  return worstHere(ctx, attribute, claims, findings);
}

/** Give the worst of several findings by what each means for the verdict. */
const worstHere = (ctx, attribute, claims, findings) => worstBy((one) => OUTCOMES.indexOf(
  weigh(ctx, attribute, claims, one.result, one.side, one).outcome), findings);

function findOne(ctx, attribute, asked) {
  const [judge, alone] = [judgeOf(attribute), answersAlone(attribute)];
  const offers = ctx.offered.get(attribute.code) ?? [];
  const offered = offers[0] ?? null;
  if (asked.spelt && asked.value === null && ctx.offersCode(asked.spelt)) {
    return sameCode(ctx, attribute, asked, offered);
  }
  if (asked.value === null || isAssumed(asked)) {
    const unsaid = asked.value === null;
    if (offered !== null && !isAssumed(asked) && !saysNothing(offered.value)
      && (alone || placeAsks(ctx, attribute))) {
      const by_place = judge(ctx, attribute, null, offered);
      const { outcome } = weigh(ctx, attribute, [asked], by_place.result, by_place.side, by_place);
      if (outcome === "stop") return by_place;
    }
    return unknown(unsaid ? "what is asked was not measured" : "what is asked was only assumed",
      `at the fit point: ${attribute.measure}`, { offered: offerText(ctx.book, attribute, offered) });
  }
  if (attribute.seat || (alone && (offered === null || offered.value === null))) {
    const found = judge(ctx, attribute, asked, null);
    const said = found.required
      && !(found.result === "unknown" && PRINTED.includes(attribute.type));
    return said ? found : { ...found, required: requiredText(ctx.book, attribute, asked) };
  }
  return gapInOffer(ctx, attribute, asked, offers) ?? hold(ctx, attribute, asked, offers);
}

/** Tell whether the place asks for an attribute by itself, by a judge that knows how. */
const placeAsks = (ctx, attribute) => answersByPlace(attribute) && ctx.sheet.implied
  .some((rule) => rule.attr === attribute.code && ctx.holds(rule.when));

/** Judge every offer: of two origins that agree the one that fits worse counts. */
export function hold(ctx, attribute, asked, offers) {
  const findings = offers.map((offered) => judgeOf(attribute)(ctx, attribute, asked, offered));
  return findings.length > 1
    ? worstHere(ctx, attribute, asked === null ? [] : [asked], findings) : findings[0];
}

/** Find that both sides bear the code that decides a size without giving it. */
function sameCode(ctx, attribute, asked, offered) {
  const found = match(`both are ${asked.spelt}, which decides it`,
    { required: asked.spelt, offered: asked.spelt });
  const shown = offerText(ctx.book, attribute, offered);
  return shown === null ? found
    : warn(found, `${attribute.label}: ${shown} on the part was not compared; measure the fit point too`);
}

/** Find what is missing on the part's side, or null where it can be compared. */
export function gapInOffer(ctx, attribute, asked, offers) {
  const required = asked === null ? null : requiredText(ctx.book, attribute, asked);
  const measure = `on the part: ${attribute.measure}`;
  if (!offers.length || offers.some((offer) => saysNothing(offer.value))) {
    return unknown("not measured", measure, { required });
  }
  const shown = offerText(ctx.book, attribute, offers[0]);
  for (const [side, claims] of [["at the fit point", asked ? [asked] : []], ["on the part", offers]]) {
    if (claims.some((claim) => cannotBe(ctx.book, attribute, claim))) {
      return unknown("a size below 0 cannot be", `${side}: ${attribute.measure}`,
        { required, offered: shown });
    }
  }
  if (offers.some(isAssumed)) return unknown("only assumed", measure, { required, offered: shown });
  if (offers.length > 1 && disagree(ctx, attribute, offers, asked)) {
    const texts = offers.map((one) => offerText(ctx.book, attribute, one)).join(" against ");
    return unknown(`two origins do not say the same: ${texts}`, measure,
      { required, offered: texts });
  }
  return null;
}

const saysNothing = (value) => (isParts(value)
  ? Object.hasOwn(value, "value") && isNone(value.value) : isNone(value));

/** Tell whether claims of the same comparator do not say the same. */
function disagree(ctx, attribute, claims, asked = null) {
  const [first, ...others] = claims;
  const plain = (value) => !(isNone(value) || Array.isArray(value) || isParts(value)
    || isAbsent(value));
  return others.some((other) => {
    if (other.cmp !== first.cmp) return false;
    if (same(other.value, first.value) && other.unit === first.unit) return false;
    if (attribute.type !== "quantity" || !plain(first.value) || !plain(other.value)) return true;
    const [a, b] = [first, other].map((claim) => amount(ctx.book, attribute, claim));
    const slack = tolerance(attribute, asked ?? first, a.amount) ?? ZERO;
    return a.amount.minus(b.amount).abs().above(most(slack, a.u.plus(b.u)));
  });
}
