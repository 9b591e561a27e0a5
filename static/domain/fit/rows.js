/**
 * From claims to rows: one row an attribute, with its outcome, reason and what to measure.
 * Mirrors spares/domain/fit/rows.py.
 */

import { InvalidInput } from "../errors.js";
import { ZERO, most } from "../fraction.js";
import { formatNumber } from "../units.js";
import { distinct, isNone, isParts, same } from "../values.js";
import { isAssumed, makeClaim, where } from "./claims.js";
import { placeNumber } from "./context.js";
import { match, unknown, warn, worst } from "./finding.js";
import { answersAlone, judgeOf } from "./judges/index.js";
import { amount, isAbsent, part, tolerance } from "./reading.js";
import { offerText, requiredText, show } from "./showing.js";

/** Types whose requirement reads better printed than as it was given. */
const PRINTED = ["quantity", "flow"];
const OUTCOMES = { match: "match", caution: "advisory", unknown: "unknown" };

/** Give every row: what is asked, in its order, then what the place asks by itself. */
export function judgeRows(ctx, companions) {
  const asked = [...ctx.asked].map(([attr, claims]) => rowOf(ctx, ctx.sheet.attributes.get(attr),
    findAsked(ctx, attr, claims), companions));
  return [...asked, ...implied(ctx).map(([attribute, finding]) => rowOf(ctx, attribute, finding,
    companions))];
}

/** Judge everything that is asked of one attribute, perhaps by several origins. */
function findAsked(ctx, attr, claims) {
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
  return worst(...findings);
}

function findOne(ctx, attribute, asked) {
  const [judge, alone] = [judgeOf(attribute), answersAlone(attribute)];
  const offers = ctx.offered.get(attribute.code) ?? [];
  const offered = offers[0] ?? null;
  if (asked.spelt && asked.value === null && ctx.offersCode(asked.spelt)) {
    return sameCode(ctx, attribute, asked, offered);
  }
  if (asked.value === null || isAssumed(asked)) {
    const unsaid = asked.value === null;
    if (alone && offered !== null && !isAssumed(asked)) {
      const by_place = judge(ctx, attribute, null, offered);
      if (by_place.result === "differs") return by_place;
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
  return gapInOffer(ctx, attribute, asked, offers) ?? judge(ctx, attribute, asked, offered);
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
function gapInOffer(ctx, attribute, asked, offers) {
  const required = asked === null ? null : requiredText(ctx.book, attribute, asked);
  const measure = `on the part: ${attribute.measure}`;
  if (!offers.length || offers.some((offer) => saysNothing(offer.value))) {
    return unknown("not measured", measure, { required });
  }
  const shown = offerText(ctx.book, attribute, offers[0]);
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

/** Give what the place asks for, whether or not the fit point records it. */
function implied(ctx) {
  const done = new Set(ctx.asked.keys());
  const found = [];
  for (const rule of ctx.sheet.implied) {
    const attribute = ctx.sheet.attributes.get(rule.attr);
    const offers = ctx.offered.get(rule.attr) ?? [];
    if (done.has(rule.attr) || !ctx.holds(rule.when)) continue;
    if (!offers.length && rule.unstated === "silent") continue;
    done.add(rule.attr);
    if (!offers.length) {
      found.push([attribute, unknown(
        `not stated, and the place asks for it: ${attribute.why}`,
        `on the part: ${attribute.measure}`, { required: placeText(ctx, rule),
          weight: rule.unstated === "advise" ? "advisory" : "" })]);
      continue;
    }
    const asked = claimOf(ctx, attribute, rule);
    found.push([attribute, gapInOffer(ctx, attribute, asked, offers)
      ?? judgeOf(attribute)(ctx, attribute, asked, offers[0])]);
  }
  return found;
}

/** Say what in the place asks for a row. */
function placeText(ctx, rule) {
  if (rule.value !== null) return show(rule.value);
  return Object.keys(rule.when.place ?? {}).map((name) => show(ctx.place[name])).join(", ");
}

function claimOf(ctx, attribute, rule) {
  const value = rule.value_of ? formatNumber(placeNumber(ctx.place, rule.value_of)) : rule.value;
  return value === null ? null
    : makeClaim(attribute.code, value, { cmp: rule.cmp, pointer: "#/place" });
}

function rowOf(ctx, attribute, finding, companions) {
  const asked = ctx.asked.get(attribute.code) ?? [];
  const severity = finding.weight || gravest(asked)
    || (attribute.advisory_when.some((when) => ctx.holds(when)) ? "advisory" : attribute.severity);
  let [outcome, change] = [OUTCOMES[finding.result] ?? "", ""];
  if (finding.result === "differs") {
    change = severity === "advisory" ? "" : changeFor(ctx, attribute, finding);
    outcome = severity === "advisory" ? "advisory" : change ? "change" : "stop";
  }
  let [reason, detail] = [finding.reason, null];
  if (change) {
    [reason, detail] = changeTexts(ctx, attribute, finding, { change, companions });
  } else if (finding.barred && outcome === "stop") {
    reason = `${reason}. No change: ${finding.barred}`;
  }
  const rests_on = restsOn(ctx, attribute, finding);
  if (rests_on.length) {
    reason = `${reason} (rests on values from memory, not looked up: ${rests_on.join(", ")})`;
  }
  return { attr: attribute.code, label: attribute.label, outcome, severity,
    required: finding.required, offered: finding.offered, reason,
    measure: finding.result === "unknown" ? finding.measure || attribute.measure : null,
    change: change ? ctx.book.changes.get(change).name : null, detail,
    cautions: finding.cautions, rests_on };
}

function changeTexts(ctx, attribute, finding, { change, companions }) {
  const named = ctx.book.changes.get(change);
  const parts = companions[attribute.code] ?? [];
  const tail = parts.length ? `needs ${parts.join(", ")}` : named.part ? "no part recorded" : "";
  return [`${finding.reason}. Only where: ${named.conditions}`,
    [finding.detail, tail].filter(Boolean).join("; ") || null];
}

function restsOn(ctx, attribute, finding) {
  const claims = [ctx.asked, ctx.offered].flatMap((side) => side.get(attribute.code) ?? []);
  return distinct([...finding.rests_on, ...claims.flatMap((claim) => claim.rests_on)]);
}

/** Name the change that meets a difference, or nothing: then it is a stop. */
function changeFor(ctx, attribute, finding) {
  if (finding.barred) return "";
  if (finding.change) return finding.change;
  return attribute.changes.find((change) => ["", finding.side].includes(change.side)
    && ctx.holds(change.when))?.name ?? "";
}

/** Give the gravest of what several origins say, undefined where none says anything. */
function gravest(claims) {
  const said = new Set(claims.map((claim) => claim.severity));
  return ["stop", "change", "advisory"].find((severity) => said.has(severity));
}
