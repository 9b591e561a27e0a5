/**
 * Judge shaft seals: seat, form, ribs against rotation, spring, speed of the lip, worn shaft.
 * Mirrors spares/domain/fit/judges/seals.py.
 */

import { Fraction } from "../../fraction.js";
import { exact, formatNumber } from "../../units.js";
import { textOf } from "../../values.js";
import { makeClaim } from "../claims.js";
import { compareAmount } from "../compare.js";
import { caution, differs, match, unknown, worst } from "../finding.js";
import { reaches, within } from "../limits.js";
import { amount, amountText, isAbsent, part, word } from "../reading.js";
import { listed, show } from "../showing.js";
import { family, judgeMaterial } from "./materials.js";
import { judgeQuantity, notStated } from "./plain.js";
import { readRotation } from "./rotation.js";

const EITHER_WAY = ["none", "wd"];
const ONE_WAY = { rd: "cw", ld: "ccw" };
const GROOVE = Fraction.of("0.05");      // [mm] what a fingernail feels; proposed here
const FILLS = Fraction.of("0.2");        // [mm]
const PI = exact("3.14159265");
const NO_END = ["from where one looks is not said, or the sense is not known",
  "say clockwise or anticlockwise, and whether seen from the shaft end or the cover end"];
const NO_TURN = ["made for one way of turning, and which way the shaft turns is not recorded",
  "at the fit point: turn the engine by hand, stopped and isolated; say clockwise or anticlockwise, and whether seen "
  + "from the shaft end or the cover end"];
const said = (claim) => claim !== null && claim.value !== null;

/** Judge shaft or housing bore; a packing is judged by its section between the two. */
export function judgeSeatSize(ctx, attribute, asked, offered) {
  if (asked === null) return notStated(attribute, null);
  if (said(offered)) return judgeQuantity(ctx, attribute, asked, offered);
  const section = ctx.offeredAmount("section");
  const [shaft, bore] = ["shaft_diameter", "housing_bore"].map((attr) => ctx.askedAmount(attr));
  const is_packing = ["packing", "gland-packing"].includes(ctx.offeredWord("seal_kind"));
  if (!is_packing || !section || !shaft || !bore) return notStated(attribute, asked);
  const need = bore.amount.minus(shaft.amount).over(2n);
  const inside = within(section.amount.minus(need), FILLS,
    section.u.plus(bore.u.plus(shaft.u).over(2n)));
  const texts = { required: `section ${formatNumber(need)} mm (bore - shaft) / 2`,
    offered: `section ${amountText(section)}` };
  if (inside === null) return unknown("read too coarsely to tell", attribute.measure, texts);
  return inside ? match("fills the gland", texts) : differs("does not fill the gland", texts);
}

/** Judge the depth of the seat against the width of the seal. */
export function judgeSeatDepth(ctx, attribute, asked) {
  const [depth, width] = [amount(ctx.book, attribute, asked), ctx.offeredAmount("width")];
  const required = `seat ${amountText(depth)} deep`;
  if (width === null) {
    return unknown("the width of the seal was not measured",
      "width of the seal: calipers on the rim", { required });
  }
  const texts = { required, offered: `${amountText(width)} wide` };
  const inside = reaches(depth.amount, width.amount, depth.u.plus(width.u));
  if (inside === null) return unknown("read too coarsely to tell", attribute.measure, texts);
  return inside ? match("goes in wholly", texts)
    : differs(`stands out of its seat: ${attribute.why}`, { side: "more", ...texts });
}

/** Judge the form: another body is a stop, a dust lip more or less is said. */
export function judgeForm(ctx, attribute, asked, offered) {
  const plain = (value) => textOf(value).trim().toUpperCase();
  const body = (form) => form.replace(/S$/, "");
  const wanted = listed(asked.value).map(plain);
  const have = plain(part(offered.value, "value"));
  const texts = { required: wanted.join(" or "), offered: have };
  if (wanted.includes(have)) return match("as asked", texts);
  if (["A", "B", "C"].includes(body(have)) && wanted.map(body).includes(body(have))) {
    return caution(have.endsWith("S") ? "has a dust lip more than asked"
      : "has no dust lip: dirt and splash reach the lip", texts);
  }
  return differs(`another form: ${attribute.why}`, texts);
}

/** Judge the ribs of a lip by the list asked and by the rotation of the place. */
export function judgeRibs(ctx, attribute, asked, offered) {
  const have = word(listed(offered.value)[0]);
  const findings = [];
  if (asked !== null) {
    const wanted = listed(asked.value).map(word);
    const texts = { required: wanted.join(" or "), offered: have };
    findings.push(wanted.includes(have) ? match("among those asked", texts)
      : differs(`not among those asked: ${attribute.why}`, texts));
  }
  const turns = ctx.place.rotation ?? null;
  if (turns !== null) findings.push(byRotation(attribute, turns, have));
  else if (asked === null) {
    findings.push(byRotation(attribute, ctx.askedClaim("rotation")?.value ?? null, have));
  }
  return worst(...findings);
}

/** Judge the rotation that is asked against the ribs, or against what the seal is made for. */
export function judgeSealRotation(ctx, attribute, asked, offered) {
  const ribs = ctx.offeredWord("ribs");
  if (!said(offered)) {
    return ribs === null || asked === null ? notStated(attribute, asked)
      : byRotation(attribute, asked.value, ribs);
  }
  const turns = (asked ? asked.value : ctx.place.rotation) ?? null;
  const [wanted, have] = [turns === null ? null : readRotation(turns), readRotation(offered.value)];
  const texts = { required: show(turns), offered: show(offered.value) };
  if (have === "either") return match("made for either rotation", texts);
  if (turns === null) return unknown(...NO_TURN, texts);
  if (wanted === null || have === null) {
    return unknown("from where one looks is not said", attribute.measure, texts);
  }
  return wanted === have ? match("as asked", texts)
    : differs(`the other way round: ${attribute.why}`, texts);
}

/** Judge the metal of the spring: stainless where it is wet, or what is asked. */
export function judgeSpring(ctx, attribute, asked, offered) {
  if (asked !== null) return judgeMaterial(ctx, attribute, asked, offered);
  const [have] = listed(offered.value);
  const texts = { required: "stainless where it is wet", offered: show(have) };
  if (["stainless", "bronze"].includes(family(ctx.book, have)) || isAbsent(have)) {
    return match("does not rust", texts);
  }
  return differs(attribute.why, texts);
}

/** Judge the speed of the lip: asked, and derived from shaft and speed of the pump. */
export function judgeLipSpeed(ctx, attribute, asked, offered) {
  if (offered === null) return notStated(attribute, asked);
  const have = amount(ctx.book, attribute, offered);
  const findings = asked === null ? [] : [compareAmount(ctx.book, attribute, asked, have)];
  const shaft = ctx.askedAmount("shaft_diameter") ?? ctx.offeredAmount("shaft_diameter");
  const turns = ctx.pumpSpeed;
  if (shaft !== null && turns !== null) {
    const speed = PI.times(shaft.amount).times(turns).over(60000n);      // mm per minute to m/s
    const derived = makeClaim(attribute.code, speed.rounded(3),
      { cmp: "at-least", pointer: "#/place" });
    const found = compareAmount(ctx.book, attribute, derived, have);
    findings.push({ ...found, reason: `${found.reason} (π × ${formatNumber(shaft.amount)} mm × `
      + `${formatNumber(turns, 0)} r/min)` });
  }
  return findings.length ? worst(...findings)
    : match("nothing is asked of it", { offered: amountText(have) });
}

/** Judge a track worn into the shaft; a sleeve helps, but not under ribs that pump. */
export function judgeShaftGroove(ctx, attribute, asked, offered) {
  if (asked === null) return notStated(attribute, null);
  let found = null;
  if (said(offered)) {
    found = compareAmount(ctx.book, attribute, asked, amount(ctx.book, attribute, offered));
  } else {
    const groove = amount(ctx.book, attribute, asked);
    const limit = { ...asked, value: GROOVE, unit: null, tol: null, cmp: "at-most", u: 0 };
    found = { ...compareAmount(ctx.book, attribute, limit, groove),
      required: `groove ≤ ${formatNumber(GROOVE)} mm`, offered: amountText(groove) };
    if (found.result === "match" && !asked.origin.how.startsWith("measured")) {
      return notStated(attribute, asked);
    }
  }
  const pumps = ["rd", "ld", "wd"].includes(ctx.offeredWord("ribs"));
  return found.result === "differs" && pumps
    ? { ...found, barred: "a lip with ribs must not be moved or sleeved" } : found;
}

function byRotation(attribute, rotation, ribs) {
  const texts = { required: show(rotation), offered: ribs };
  if (EITHER_WAY.includes(ribs)) return match("serves either rotation", texts);
  if (!Object.hasOwn(ONE_WAY, ribs)) {
    return unknown("which ribs it has is not known", attribute.measure, texts);
  }
  if (rotation === null) return unknown(...NO_TURN, texts);
  const sense = readRotation(rotation);
  if (sense === null) return unknown(...NO_END, texts);
  return sense === ONE_WAY[ribs] ? match("made for this rotation", texts)
    : differs(`made for the other rotation: ${attribute.why}`, texts);
}
