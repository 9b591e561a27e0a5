/**
 * O-rings: `AS568-214` by its dash number, `25x3.5` by its size; rubber and hardness may follow.
 * Mirrors spares/domain/fit/designations/orings.py. Codes of different series share digits, so a
 * bare `214` stands for nothing.
 */

import { ZERO } from "../../fraction.js";
import { exact, formatNumber } from "../../units.js";
import { capitals, designation } from "./designation.js";

const DASH = new RegExp("^(?:AS\\s*568\\s*[AB]?|BS\\s*1806|ISO\\s*3601(?:-1)?)\\s*-?\\s*"
  + "(?<dash>\\d{3})(?<rest>(?:\\s+.*)?)$");
const SIZE = new RegExp("^(?:O-?RING|OR)?\\s*(?:ID)?\\s*(?<d>\\d+(?:[.,]\\d+)?)\\s*(?:MM)?\\s*[X×*]"
  + "\\s*(?:CS)?\\s*(?<w>\\d+(?:[.,]\\d+)?)\\s*(?:MM)?(?<rest>(?:\\s+.*)?)$");
const RUBBERS = ["NBR", "EPDM", "FKM", "FPM", "CR", "VMQ", "HNBR", "PU"];

/** Read the code of an O-ring, such as `AS568-214 NBR 70` or `25 x 3,5`. */
export function read(book, text) {
  const plain = capitals(text);
  const dash = DASH.exec(plain)?.groups;
  if (dash) {
    const row = book.table("orings_as568").find({ dash: dash.dash });
    const rest = restOf(dash.rest);
    return row && rest && designation(join(`AS568-${row.dash}`, rest), {
      inside_diameter: row.inside_diameter_mm, section: row.section_mm, ...rest },
    { series: "AS568" });
  }
  const size = SIZE.exec(plain)?.groups;
  const rest = size ? restOf(size.rest) : null;
  if (!rest) return null;
  const [d, w] = [exact(size.d), exact(size.w)];
  if (w.atMost(ZERO) || w.atLeast(d.times(10n))) return null;
  const [inside_diameter, section] = [d, w].map((one) => formatNumber(one));
  return designation(join(`${inside_diameter}x${section}`, rest),
    { inside_diameter, section, ...rest }, { series: "by size" });
}

/** Give the tolerance of a section [mm]: of its dash series, else of its size; else null. */
export function sectionTolerance(book, section) {
  const own = book.table("orings_as568").records
    .find((row) => exact(row.section_mm).equals(section));
  if (own) return own.section_tol_mm;
  return book.table("oring_section_tolerances").records
    .find((row) => section.atMost(exact(row.up_to_mm)))?.tol_mm ?? null;
}

/** Read rubber and hardness; null where something else stands there. */
function restOf(text) {
  const found = {};
  for (const word of text.replace(/[-/]/g, " ").split(" ").filter(Boolean)) {
    if (RUBBERS.includes(word)) found.material = word === "FPM" ? "FKM" : word;
    else if (/^[4-9]\d$/.test(word)) found.hardness = Number(word);
    else if (!["SHORE", "A", "IRHD", "SH"].includes(word)) return null;
  }
  return found;
}

const join = (head, { material, hardness }) => [head, material, hardness]
  .filter((one) => one !== undefined).join(" ");
