/**
 * Judge pumps: flow and speed at the derived speed, rotation, holes and bolt circle.
 * Mirrors spares/domain/fit/judges/pumps.py.
 */

import { InvalidInput } from "../../errors.js";
import { ZERO } from "../../fraction.js";
import { exact, formatNumber } from "../../units.js";
import { makeClaim, where } from "../claims.js";
import { compareAmount } from "../compare.js";
import { placeNumber } from "../context.js";
import { comparator } from "../limits.js";
import { bestOf, caution, differs, match, unknown, warn } from "../finding.js";
import { amount, amountText, flag, isAbsent, part, readable } from "../reading.js";
import { show } from "../showing.js";
import { asGiven, notStated } from "./plain.js";
import { readRotation } from "./rotation.js";

/** Judge flow at the speed at which the pump will turn; flow goes with speed. */
export function judgeFlow(ctx, attribute, asked, offered) {
  if (offered === null) return notStated(attribute, asked);
  if (isAbsent(part(offered.value, "value"))) {
    return asked === null ? caution("neither need nor flow is recorded", { offered: "none" })
      : unknown("no flow is stated", attribute.measure, { required: show(asked.value) });
  }
  const have = amount(ctx.book, attribute, offered);
  const [rated, speed] = [partNumber(offered, "at_rpm"), ctx.pumpSpeed];
  const at = speed ?? partNumber(asked, "at_rpm");
  const head = partNumber(offered, "at_bar");
  const shown = amountText(have) + (rated ? ` at ${formatNumber(rated)} r/min` : "")
    + (head === null ? "" : ` at ${formatNumber(head)} bar`);
  const electric = ctx.drive === "electric";
  const gap = electric ? "" : speedGap(rated, at, ctx.drive);
  if (gap && asked === null && speed !== null) {
    return caution(`the need is not recorded, and ${gap}`, { offered: shown });
  }
  if (gap && asked !== null) {
    return unknown(gap, attribute.measure, { offered: shown, required: show(asked.value) });
  }
  let [given, sum_text] = [have, ""];
  if (rated && at !== null && !electric) {
    given = atSpeed(have, at, rated);
    sum_text = `${formatNumber(have.amount)} × ${formatNumber(at, 0)} / ${formatNumber(rated)} = `
      + `${formatNumber(given.amount, 1)} L/min`;
  }
  if (asked === null) {
    return caution(`the need is not recorded; it gives ${sum_text || shown}`, { offered: shown });
  }
  return flowFound(ctx, attribute, { asked, offered, have, given, rated, shown, sum_text });
}

function flowFound(ctx, attribute, { asked, offered, have, given, rated, shown, sum_text }) {
  const compared = compareAmount(ctx.book, attribute, asked, given);
  const reason = sum_text ? `${compared.reason} (${sum_text})` : compared.reason;
  const at_speed = { ...compared, reason, offered: shown };
  const said = rated === null && ctx.drive === null && compared.result === "match"
    ? warn(at_speed, "at which speed is not said: that holds for a pump with its own motor")
    : at_speed;
  const found = byHead(said, asked, offered, attribute);
  if (found.result !== "differs" || found.side !== "less" || ctx.drive !== "belt") return found;
  const [need, head] = [asked, offered].map((claim) => partNumber(claim, "at_bar"));
  if (need !== null && head !== null && head.below(need)) {
    return { ...found, barred: "stated at less head than is needed: no pulley follows from it" };
  }
  const wanted = amount(ctx.book, attribute, asked);
  return otherPulley(ctx, found, { need: wanted, have, rated });
}

/** Judge the highest speed against what is asked and against the derived speed. */
export function judgeMaxSpeed(ctx, attribute, asked, offered) {
  if (offered === null) return notStated(attribute, asked);
  const speed = ctx.pumpSpeed;
  if (isAbsent(offered.value)) return unknown("no highest speed is stated", attribute.measure);
  const have = amount(ctx.book, attribute, offered);
  const findings = asked === null ? [] : [compareAmount(ctx.book, attribute, asked, have)];
  if (speed !== null) {
    const derived = makeClaim(attribute.code, speed, { cmp: "at-least", pointer: "#/place" });
    const found = compareAmount(ctx.book, attribute, derived, have);
    findings.push({ ...found, reason: `${found.reason} (engine speed × drive / driven = `
      + `${formatNumber(speed, 0)} r/min)` });
  }
  return findings.length ? bestOf(findings, ["differs", "unknown", "match"])
    : match("nothing is asked of it", { offered: amountText(have) });
}

/** Judge that the flow does not go above a limit, by the flow that is stated. */
export function judgeMaxFlow(ctx, attribute, asked, offered) {
  const flow = offered ?? ctx.offeredClaim("flow");
  if (asked === null || flow === null || isAbsent(part(flow.value, "value"))) return notStated(attribute, asked);
  const have = amount(ctx.book, attribute, flow);
  const [rated, speed] = [partNumber(flow, "at_rpm"), ctx.pumpSpeed];
  const given = rated && speed !== null ? atSpeed(have, speed, rated) : have;
  return compareAmount(ctx.book, attribute, asked, given);
}

/** Judge the sense of rotation; without the end from which one looks nobody can tell. */
export function judgeRotation(ctx, attribute, asked, offered) {
  const [wanted, have] = [asked, offered].map((claim) => readRotation(claim.value));
  const texts = asGiven(asked, offered);
  if (have === "either") return match("turns either way", texts);
  if (wanted === "either") {
    const reversible = ctx.offeredClaim("reversible");
    if (reversible !== null && flag(reversible.value)) {
      return warn(match("reversible", texts), "inlet and outlet change over with rotation");
    }
    return unknown("stated for one way of turning, and it must turn either way",
      "maker's data, or look at cam and lip: reversible or not", texts);
  }
  if (wanted === null || have === null) {
    return unknown("from where one looks is not said, or the sense is not known",
      "say clockwise or anticlockwise, and whether seen from the shaft end or the cover end", texts);
  }
  if (wanted === have) return match("the same way round", texts);
  const hint = ctx.offeredClaim("reversible") ? "" : "; would be a change if it is reversible";
  const barred = ctx.offeredWord("principle") === "centrifugal"
    ? "a centrifugal pump moves water one way only" : "";
  return differs(`the other way round: ${attribute.why}${hint}`,
    { detail: "swap inlet and outlet hoses", barred, ...texts });
}

/** Give a number that stands beside a value, such as `at_rpm`; null where it is not said. */
function partNumber(claim, name) {
  const raw = claim ? part(claim.value, name) : null;
  if (raw === null) return null;
  const number = readable(`${where(claim)}/${name}`, () => exact(raw));
  if (number.below(ZERO) || (number.isZero && name === "at_rpm")) {
    throw InvalidInput.at(`${where(claim)}/${name}`, "must be above 0");
  }
  return number;
}

/** Give the flow of a pump at another speed; what is not known of it grows alike. */
const atSpeed = ({ amount: size, u, unit }, speed, rated) => ({ amount: size.times(speed).over(rated),
  u: u.times(speed).over(rated), unit });

/** Say which speed is missing: of one side, or of both where a machine drives the pump. */
function speedGap(rated, at, drive) {
  if (rated === null && at === null && drive !== null) {
    return "at which speed it gives that, and at which it is needed, is not said";
  }
  if (rated === null && at !== null) return "the speed at which the flow is stated is not said";
  if (rated !== null && at === null) return "the speed at which the flow is needed is not said";
  return "";
}

/** Look at the pressure: a pump gives more at less head, and how much more nobody says. */
function byHead(found, asked, offered, attribute) {
  const [need, have] = [asked, offered].map((claim) => partNumber(claim, "at_bar"));
  if (need === null || (have !== null && have.equals(need))) return found;
  const texts = { required: found.required, offered: found.offered };
  if (have === null) {
    return unknown("the pressure at which the flow is stated is not said", attribute.measure, texts);
  }
  const bound = { "at-least": "more", "at-most": "less" }[comparator(attribute, asked)];
  const moves = have.above(need) ? "more" : "less";     // than is stated, at the head that is needed
  const holds = found.result === "match" ? bound === moves
    : found.result === "differs" && found.side === moves;
  return holds ? found
    : unknown(`stated at ${formatNumber(have)} bar, needed at ${formatNumber(need)} bar`,
      attribute.measure, texts);
}

/** Work out the pulley that would give the flow, and whether the pump bears its speed. */
function otherPulley(ctx, found, { need, have, rated }) {
  const now = ctx.pumpSpeed;
  if (have.amount.atMost(ZERO)) return { ...found, barred: "it gives no flow, at whatever speed" };
  if (now === null || !rated) return found;
  const driven_now = placeNumber(ctx.place, "driven_pulley_mm");
  const needed = need.amount.over(have.amount).times(rated);
  const driven = driven_now.times(now).over(needed).truncated();
  if (driven <= 0n) return { ...found, barred: "no pulley would be small enough" };
  const speed = now.times(driven_now).over(driven);
  const limit = ctx.offeredAmount("max_speed_rpm");
  if (limit && speed.above(limit.amount)) {
    return { ...found, barred: `it would have to turn at ${formatNumber(speed, 0)} r/min, more than `
      + `the ${formatNumber(limit.amount)} it bears` };
  }
  const flow = have.amount.times(speed).over(rated);
  const ratio = placeNumber(ctx.place, "drive_pulley_mm").over(driven);
  return { ...found, detail: `pump pulley ${driven} mm for ${formatNumber(driven_now)} mm (ratio `
    + `${formatNumber(ratio, 2)}): ${formatNumber(flow, 1)} L/min at ${formatNumber(speed, 0)} r/min`
    + `${limit ? "" : "; the pump's highest speed is not stated"}` };
}
