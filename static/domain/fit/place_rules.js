/**
 * What the place asks for by itself, and how it stands to what the fit point asks.
 * Mirrors spares/domain/fit/place_rules.py.
 */

import { formatNumber } from "../units.js";
import { makeClaim } from "./claims.js";
import { placeNumber } from "./context.js";
import { findAsked, gapInOffer, hold } from "./find.js";
import { unknown, warn } from "./finding.js";
import { OUTCOMES, weigh } from "./rows.js";
import { show } from "./showing.js";

const UNITS = [["_mm2", "mm²"], ["_c", "°C"]];

/**
 * Judge a line of what is asked; a row never asks less than the place does.
 * @returns {object} the finding; that of the place where it is worse, and either the rule always
 *   holds or the row is advice only
 */
export function findLine(ctx, line) {
  const { code, attribute, claims } = line;
  const found = findAsked(ctx, code, claims);
  const by_place = line.yields ? byPlace(ctx, line) : null;
  if (by_place === null) return found;
  const asked = weigh(ctx, attribute, claims, found.result, found.side, found);
  const needed = weigh(ctx, attribute, [], by_place.result, by_place.side, by_place);
  return grave(needed) <= grave(asked) ? found : { ...by_place, weight: needed.severity };
}

/** Rank by what blocks: an advisory never does, be it ever so unknown. */
const grave = ({ severity, outcome }) => OUTCOMES.indexOf(
  severity === "advisory" ? "advisory" : outcome);

/** Say so where what is asked is met, and the place asks otherwise. */
export function withDoubt(ctx, line, found) {
  // a judge that knows the place has said it itself
  if (found.result !== "match" || found.cautions.length || !ctx.offered.has(line.code)) return found;
  const by_place = byPlace(ctx, line);
  if (by_place?.result !== "differs") return found;
  const needed = by_place.required ? `: ${by_place.required}` : "";
  return warn(found, `as asked, yet the place needs another${needed}: look again`);
}

/** Judge by the first rule of the place that holds; null where it has nothing to say. */
function byPlace(ctx, line) {
  const { rule } = line.rules.find(({ when }) => !when || ctx.holds(when)) ?? {};
  if (!rule || (!ctx.offered.has(line.code) && rule.unstated === "silent")) return null;
  return findImplied(ctx, line.attribute, rule);
}

/**
 * Give what the place asks for, whether or not the fit point records it: [line, rule] each.
 * @param {object[]} rules {rule, when}: those that may hold here, with what is left to be seen
 */
export function implied(ctx, rules) {
  const done = new Set();
  const found = [];
  for (const { rule, when } of rules) {
    if (done.has(rule.attr) || (when && !ctx.holds(when))) continue;
    done.add(rule.attr);
    if (!ctx.offered.has(rule.attr) && rule.unstated === "silent") continue;
    found.push([ctx.sheet.attributes.get(rule.attr), rule]);
  }
  return found;
}

/**
 * Judge what the place asks of one attribute.
 * @param {boolean} proven a recorded proof decides alone: what nobody can tell is advice then,
 *   unless the rule always holds
 */
export function findImplied(ctx, attribute, rule, proven = false) {
  const offers = ctx.offered.get(rule.attr) ?? [];
  const found = offers.length ? heldTo(ctx, attribute, claimOf(ctx, attribute, rule), offers)
    : unknown(`not stated, and the place asks for it: ${attribute.why}`,
      `on the part: ${attribute.measure}`, { required: placeText(ctx, rule) });
  let weight = rule.severity;
  if (!offers.length && rule.unstated === "advise") weight ||= "advisory";
  if (proven && !rule.always && found.result === "unknown") weight = "advisory";
  return weight ? { ...found, weight } : found;
}

const heldTo = (ctx, attribute, asked, offers) => gapInOffer(ctx, attribute, asked, offers)
  ?? hold(ctx, attribute, asked, offers);

/** Say what in the place asks for a row. */
function placeText(ctx, rule) {
  if (rule.value !== null) return show(rule.value);
  const { place = {} } = rule.when;
  if (Object.hasOwn(place, "driven_pulley_mm") && ctx.pumpSpeed !== null) {
    return `turns at ${formatNumber(ctx.pumpSpeed, 0)} r/min`;
  }
  const said = Object.keys(place).map((name) => saidOf(name, ctx.place[name]));
  const asked = Object.keys(rule.when.asked ?? {}).map((name) => ctx.askedClaim(name))
    .filter((claim) => claim !== null).map((claim) => claim.value);
  return [...said, ...asked].map(show).join(", ");
}

/** Say a field of the place with its unit; what is yes by its name. */
function saidOf(name, value) {
  const [, unit] = UNITS.find(([tail]) => name.endsWith(tail)) ?? [];
  if (value === true) return name.replaceAll("_", " ");
  return unit ? `${show(value)} ${unit}` : value;
}

function claimOf(ctx, attribute, rule) {
  const value = rule.value_of ? formatNumber(placeNumber(ctx.place, rule.value_of)) : rule.value;
  return value === null ? null
    : makeClaim(attribute.code, value, { cmp: rule.cmp, pointer: "#/place" });
}
