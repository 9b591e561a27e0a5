/**
 * Belts: `A38`, `AX38`, `SPA1000`, `13x1000 Li`, `3V500`, `6PK1200`, `640-8M-30`.
 * Mirrors spares/domain/fit/designations/belts.py.
 *
 * The length of a belt means nothing without its system: datum (Ld, Lw, Lp), inside (Li), outside
 * (La) or effective (Le).
 */

import { INCH_MM, exact, formatNumber } from "../../units.js";
import { capitals, designation } from "./designation.js";

const SYSTEMS = { LI: "inside", LD: "datum", LW: "datum", LP: "datum", LA: "outside",
  LE: "effective" };
const INCHES = /^(?<section>[ABCD])(?<x>X?)\s*-?\s*(?<n>\d{2,3})$/;
const LONG = new RegExp("^(?<section>SPZ|SPA|SPB|SPC|XPZ|XPA|XPB|XPC|ZX|AX|BX|CX|DX|Z|A|B|C|D)\\s*-?"
  + "\\s*(?<l>\\d{3,5})\\s*(?:MM)?\\s*(?<system>L[IDWPAE])?$");
const WIDTH = new RegExp("^(?<w>AVX\\s*\\d{2}|\\d{1,2}(?:[.,]5)?)\\s*(?:[X×*]\\s*(?<h>\\d{1,2}))?"
  + "\\s*[X×*]\\s*(?<l>\\d{3,5})\\s*(?:MM)?\\s*(?<system>L[IDWPAE])?$");
const NARROW = /^(?<section>[358]V)(?<x>X?)\s*-?\s*(?<n>\d{3,4})$/;
const RIBBED = /^(?<ribs>\d{1,2})\s*(?<profile>P[HJKLM])\s*-?\s*(?<l>\d{3,5})$/;
const TOOTHED = /^(?<l>\d{2,5})\s*-\s*(?<pitch>\d{1,2})(?<profile>M|T|AT)?\s*-\s*(?<w>\d{1,3})$/;
const TITLE = "V-belt sections";

/** Read the code of a belt, such as `A38` or `6PK1200`. */
export function read(book, text) {
  const plain = capitals(text.replaceAll("″", ""));
  for (const [pattern, make] of [[INCHES, inches], [NARROW, narrow], [RIBBED, ribbed], [LONG, long],
    [WIDTH, byWidth], [TOOTHED, toothed]]) {
    const hit = pattern.exec(plain)?.groups;
    const found = hit ? make(book, hit) : null;
    if (found) return found;
  }
  return null;
}

const lengthOf = (value, system) => (system ? { value, system, unit: "mm" } : { value, unit: "mm" });
const construction = (crossed) => (crossed ? "raw-edge-cogged" : "wrapped");
const tailOf = ({ system }) => (system ? ` ${system[0]}${system.slice(1).toLowerCase()}` : "");

/** Read A38: 38 is the inside length in inches, the datum length stands in the table. */
function inches(book, { section, x, n }) {
  const row = book.table("belt_lengths_classical").find({ code: `${section}${Number(n)}` });
  const length = row ? lengthOf(row.datum_length_mm, "datum")
    : lengthOf(formatNumber(INCH_MM.times(BigInt(n)), 1), "inside");
  return designation(`${section}${x}${Number(n)}`,
    { belt_kind: "v", section, construction: construction(x), length });
}

/** Read SPA1000 or A 1000 Li; a narrow metric belt is named by its datum length. */
function long(book, hit) {
  const { section, l } = hit;
  const crossed = section.startsWith("XP") || section.endsWith("X");
  const plain = section.replace("XP", "SP").replace(/X$/, "");
  const is_narrow = plain.startsWith("SP");
  const system = SYSTEMS[hit.system ?? ""] ?? (is_narrow ? "datum" : null);
  return designation(`${section}${l}${tailOf(hit)}`, { belt_kind: is_narrow ? "narrow-v" : "v",
    section: plain, construction: construction(crossed), length: lengthOf(Number(l), system) });
}

/** Read 13x1000 Li: 13 is the top width. */
function byWidth(book, hit) {
  const wide = hit.w.replaceAll(" ", "");
  const said = SYSTEMS[hit.system ?? ""] ?? null;
  const automotive = wide.startsWith("AVX");
  const section = automotive ? wide : sectionByWidth(book, wide, hit.h);
  if (!section) return null;
  const system = automotive ? said ?? "outside" : said;
  return designation(`${wide}${hit.h ? `x${hit.h}` : ""}x${hit.l}${tailOf(hit)}`, {
    belt_kind: /^(SP|AVX)/.test(section) ? "narrow-v" : "v", section,
    length: lengthOf(Number(hit.l), system),
    ...(automotive ? { construction: construction(true) } : {}) }, { rests_on: [TITLE] });
}

function sectionByWidth(book, wide, high) {
  const rows = book.table("belt_sections").records.filter((row) => (
    exact(row.top_width_mm).equals(exact(wide))
    && (!high || exact(row.height_mm).equals(exact(high)))));
  const classical = rows.find((row) => row.belt_kind === "v");
  const slim = rows.find((row) => high && row.belt_kind === "narrow-v"
    && row.section.startsWith("SP"));
  return (classical ?? slim)?.section ?? null;
}

function narrow(book, { section, x, n }) {
  const row = book.table("belt_lengths_narrow").find({ code: `${section}${n}` });
  const length = row ? row.effective_length_mm
    : formatNumber(INCH_MM.times(BigInt(n)).over(10n), 1);
  return designation(`${section}${x}${n}`, { belt_kind: "narrow-v", section,
    construction: construction(x), length: lengthOf(length, "effective") });
}

function ribbed(book, { ribs, profile, l }) {
  return designation(`${Number(ribs)}${profile}${Number(l)}`, { belt_kind: "poly-v",
    rib_profile: profile, rib_count: Number(ribs), length: lengthOf(Number(l), "effective") });
}

function toothed(book, hit) {
  const [pitch, length, width] = [Number(hit.pitch), Number(hit.l), Number(hit.w)];
  if (length % pitch) return null;
  const profile = hit.profile ?? "";
  return designation(`${length}-${pitch}${profile}-${width}`, { belt_kind: "toothed",
    tooth_pitch: pitch, teeth: length / pitch, width,
    ...(profile ? { tooth_profile: `${pitch}${profile}` } : {}) });
}
