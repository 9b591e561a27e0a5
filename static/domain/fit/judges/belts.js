/**
 * Judge belts: section against the grooves, length in its system, ribs.
 * Mirrors spares/domain/fit/judges/belts.py.
 */

import { InvalidInput } from "../../errors.js";
import { Fraction, ZERO } from "../../fraction.js";
import { exact, formatNumber } from "../../units.js";
import { distinct, isParts, textOf } from "../../values.js";
import { makeClaim, where } from "../claims.js";
import { compareAmount } from "../compare.js";
import { differs, match, unknown } from "../finding.js";
import { reaches } from "../limits.js";
import { amount, amountText, isRange, part, word } from "../reading.js";
import { listed, show } from "../showing.js";
import { judgeWord } from "./plain.js";

const SECTIONS = ["V-belt sections"];
const ALL_SYSTEMS = ["datum", "inside", "outside", "effective"];
const SYSTEMS = { datum: "datum", pitch: "datum", inside: "inside", outside: "outside",
  effective: "effective", ld: "datum", lw: "datum", li: "inside", la: "outside", le: "effective" };
// Without a recorded take-up: alike within 0.5 % (making), unlike from 3 % on; proposed here.
const [ALIKE, UNLIKE] = [Fraction.of("0.005"), Fraction.of("0.03")];
// Long belts of section B are offset less: 6 to 10 mm from B225 on in the makers' table.
const [LONG_B, LONG_B_OFFSET] = [Fraction.of(5500), Fraction.of(8)];
const RAW_EDGE = ["AX", "BX", "CX", "ZX", "DX"];

/**
 * Judge the kind, told by section or ribs where it is not said itself; between V and narrow V the
 * section decides where it is asked.
 */
export function judgeBeltKind(ctx, attribute, asked, offered) {
  const own = offered ?? kindByShape(ctx);
  if (asked === null || own === null) return unknown("not measured", `on the part: ${attribute.measure}`);
  const found = judgeWord(ctx, attribute, asked, own);
  const kinds = distinct([...ctx.askedWords("belt_kind"), word(own.value)]
    .map((one) => attribute.aliases.get(one) ?? one));
  const both = kinds.length === 2 && kinds.includes("v") && kinds.includes("narrow-v");
  return found.result === "differs" && both && ctx.asked.has("section")
    ? { ...found, result: "match", reason: "V and narrow V: the section decides" } : found;
}

function kindByShape(ctx) {
  const [section, ribs] = [ctx.offeredClaim("section"), ctx.offeredClaim("rib_profile")];
  const row = section && ctx.book.table("belt_sections")
    .find({ section: sectionOf(part(section.value, "value")) });
  if (row) return makeClaim("belt_kind", row.belt_kind, { pointer: where(section) });
  return ribs ? makeClaim("belt_kind", "poly-v", { pointer: where(ribs) }) : null;
}

/** Judge the section: one of those asked, or a narrow belt in grooves deep enough for it. */
export function judgeBeltSection(ctx, attribute, asked, offered) {
  const wanted = listed(asked.value).map(sectionOf);
  const have = sectionOf(part(offered.value, "value"));
  const texts = { required: wanted.join(" or "), offered: have };
  if (wanted.includes(have)) return match("as asked", texts);
  const table = ctx.book.table("belt_sections");
  const [row, rows] = [table.find({ section: have }), wanted.map((section) => table.find({ section }))];
  const other = differs(`another section: ${attribute.why}`, texts);
  if (!row || rows.includes(null)) return other;
  const same_width = rows.some((one) => one.datum_width_mm === row.datum_width_mm
    && one.belt_kind === "v" && row.belt_kind === "narrow-v");
  if (!same_width) return other;
  const deep = ctx.askedAmount("groove_depth");
  const inside = deep && reaches(deep.amount, exact(row.groove_depth_mm), deep.u);
  if (inside) {
    return match("the grooves are deep enough for this narrow belt too",
      { ...texts, rests_on: SECTIONS });
  }
  if (deep && inside === null) {
    return unknown("the depth of the grooves is read too coarsely", "depth rod in the grooves", texts);
  }
  return differs("a narrow belt does not belong in pulleys made only for classical ones", texts);
}

/** Judge the depth of the grooves against the section of the belt. */
export function judgeGrooveDepth(ctx, attribute, asked) {
  const groove = amount(ctx.book, attribute, asked);
  const claim = ctx.offeredClaim("section");
  const have = claim ? sectionOf(part(claim.value, "value")) : null;
  const row = have ? ctx.book.table("belt_sections").find({ section: have }) : null;
  const required = `grooves ${amountText(groove)} deep`;
  if (!row) {
    return unknown("the section of the belt is not known",
      "section of the belt: code, or calipers on a cut end", { required, offered: have });
  }
  const need = exact(row.groove_depth_mm);
  const inside = reaches(groove.amount, need, groove.u);
  const texts = { required, rests_on: SECTIONS, offered: `${have} needs ${formatNumber(need)} mm` };
  if (inside === null) return unknown("read too coarsely to tell", attribute.measure, texts);
  if (inside) return match("deep enough", texts);
  if (row.belt_kind === "v" && groove.amount.minus(groove.u).atLeast(exact(row.height_mm))) {
    return unknown("shallower than the standard groove, deeper than the belt is high",
      "lay the belt in: it must stand clear of the bottom", texts);
  }
  return differs(`too shallow: ${attribute.why}`, { side: "less", ...texts });
}

/** Judge a length in its system; what is not said of the system must not matter. */
export function judgeLength(ctx, attribute, asked, offered) {
  const have = amount(ctx.book, attribute, offered);
  const systems = [asked, offered].map((claim) => systemOf(ctx, claim));
  const withSystem = (text, system) => (system ? `${text} ${system}` : text);
  const shown = withSystem(amountText(have), systems[1]);
  const options = inAskedSystem(ctx, have, systems);
  const found = options.map((option) => compareLength(ctx, attribute, asked, option));
  if (!found.length) {
    return unknown("lengths of these two systems cannot be compared here", attribute.measure,
      { required: show(asked.value), offered: shown });
  }
  const required = withSystem(found[0].required || show(asked.value), systems[0]);
  const results = distinct(found.map((one) => one.result));
  if (results.length > 1 || (systems.includes(null) && results[0] !== "differs")) {
    return unknown("the system of the length is not said: datum, inside, outside or effective",
      "say in which system the length is, or string round the outside",
      { required, offered: shown });
  }
  const best = { ...found[0], required, offered: shown };
  if (systems[0] === systems[1] || systems.includes(null)) return best;
  return { ...best, rests_on: SECTIONS, reason: `${best.reason} (${formatNumber(have.amount)} `
    + `${systems[1]} is about ${formatNumber(options[0].amount, 0)} ${systems[0]})` };
}

/** Judge the profile of the ribs and say their pitches. */
export function judgeRibProfile(ctx, attribute, asked, offered) {
  const found = judgeWord(ctx, attribute, asked, offered);
  const table = ctx.book.table("belt_ribs");
  const pitches = [...listed(asked.value), ...listed(offered.value)]
    .map((value) => table.find({ profile: textOf(value).toUpperCase() })?.rib_pitch_mm ?? null);
  if (found.result !== "differs" || pitches.includes(null)) return found;
  return { ...found, reason: `${found.reason} (${pitches.at(-1)} mm for ${pitches[0]} mm)` };
}

/** Judge the number of ribs: not fewer, and more only where the pulleys have the grooves. */
export function judgeRibCount(ctx, attribute, asked, offered) {
  const have = amount(ctx.book, attribute, offered);
  const found = compareAmount(ctx.book, attribute, asked, have);
  if (found.result !== "match" || found.side !== "more") return found;
  const grooves = ctx.askedAmount("grooves");
  const texts = { required: found.required, offered: found.offered };
  if (grooves === null) {
    return unknown("more ribs than asked, and the grooves were not counted",
      "count the grooves of both pulleys", texts);
  }
  return have.amount.above(grooves.amount) ? differs("the belt hangs over", texts) : found;
}

/** Judge the grooves of the pulleys against the ribs, or the belts of a set. */
export function judgeGrooves(ctx, attribute, asked) {
  const grooves = amount(ctx.book, attribute, asked);
  const ribs = ctx.offeredAmount("rib_count") ?? ctx.offeredAmount("belts_in_set");
  const required = `${amountText(grooves)} grooves`;
  if (ribs === null) {
    return unknown("the ribs of the belt were not counted", "count the ribs", { required });
  }
  const texts = { required, offered: `${amountText(ribs)} ribs` };
  return ribs.amount.above(grooves.amount) ? differs("the belt hangs over", texts)
    : match("the ribs find their grooves", texts);
}

/** Compare in one system; without a take-up alike and unlike are far apart. */
function compareLength(ctx, attribute, asked, have) {
  if (asked.tol !== null || attribute.tol !== null || ![null, "tol"].includes(asked.cmp)
    || Array.isArray(asked.value) || isRange(asked.value)) {
    return compareAmount(ctx.book, attribute, asked, have);
  }
  const wanted = amount(ctx.book, attribute, asked);
  const [tol, half] = [UNLIKE.plus(ALIKE), UNLIKE.minus(ALIKE)]
    .map((share) => wanted.amount.times(share).over(2n));
  const in_mm = { ...asked, value: wanted.amount, tol, u: wanted.u, unit: null };
  const found = { ...compareAmount(ctx.book, attribute, in_mm, { ...have, u: have.u.plus(half) }),
    required: amountText(wanted) };
  if (found.result !== "unknown") return found;
  return { ...found, reason: "the travel of the adjuster is not recorded",
    measure: "how much the adjuster takes up" };
}

/** Give the offered length in the system asked; several where a system is not said. */
function inAskedSystem(ctx, have, [asked, offered]) {
  if (asked !== null && asked === offered) return [have];
  const row = sectionRow(ctx);
  const made = [];
  for (const to of asked ? [asked] : ALL_SYSTEMS) {
    for (const from of offered ? [offered] : ALL_SYSTEMS) {
      const [there, back] = [from, to].map((system) => toDatum(row, system, have.amount));
      if (to === from) made.push(have);
      else if (row && there && back) {
        made.push({ ...have, amount: have.amount.plus(there).minus(back),
          u: have.u.plus(exact(row.system_u_mm)) });
      }
    }
  }
  return made;
}

/** Give what is added to a length of a system to make it a datum length [mm]. */
function toDatum(row, system, length) {
  if (system === "datum") return ZERO;
  const shift = row?.[`${system}_to_datum_mm`] ?? null;
  if (shift === null) return null;
  return row.section === "B" && system === "inside" && length.above(LONG_B) ? LONG_B_OFFSET
    : exact(shift);
}

function sectionRow(ctx) {
  return [ctx.offeredClaim("section"), ctx.askedClaim("section")].filter(Boolean)
    .map((claim) => ctx.book.table("belt_sections")
      .find({ section: sectionOf(listed(claim.value)[0]) })).find(Boolean) ?? null;
}

function systemOf(ctx, claim) {
  const said = isParts(claim.value) ? part(claim.value, "system") : null;
  if (said !== null) {
    const name = word(said);
    if (Object.hasOwn(SYSTEMS, name)) return SYSTEMS[name];
    throw InvalidInput.at(`${where(claim)}/system`, "datum, inside, outside or effective");
  }
  const one_system = ["rib_profile", "teeth"]
    .some((attr) => ctx.asked.has(attr) || ctx.offered.has(attr));
  return one_system ? "effective" : null;
}

/** Write a section plainly: AX and XPA are A and SPA with a raw edge. */
function sectionOf(value) {
  const name = textOf(value).toUpperCase().replace(/\s+/g, "");
  if (name.startsWith("XP")) return `S${name.slice(1)}`;
  return RAW_EDGE.includes(name) ? name[0] : name;
}
