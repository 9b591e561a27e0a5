/**
 * Ball bearings: `6203-2RS C3` stands for bore, outside diameter, width, closure and clearance.
 * Mirrors spares/domain/fit/designations/bearings.py. The makers spell the same sides differently:
 * 2RS1, 2RSR, LLU; ZZ and 2Z. A suffix that nobody here knows leaves closure and clearance open.
 */

import { designation } from "./designation.js";

const CODE = /^(\d{3,5})(.*)$/;
const CLEARANCES = ["C2", "CN", "C0", "C3", "C4", "C5"];
const SILENT = ["P6", "P5", "P0", "TN9", "TN", "J", "M", "MA", "JN", "TVH", "ETN9", "E", "VL0241",
  "W33", "SS"];
const TABLES = ["bearings", "bearings_more", "bearings_remembered"];
const SUFFIXES = "suffixes of bearings";
const SIDES = { open: "", "seal-both": "-2RS", "seal-one": "-RS", "shield-both": "-2Z",
  "shield-one": "-Z" };

/** Read the code of a ball bearing, such as `6203-2RS1 C3`. */
export function read(book, text) {
  const plain = text.toUpperCase().replace(/[\s/,_-]+/g, " ").trim();
  const hit = CODE.exec(plain);
  const found = hit && dimensions(book, hit[1]);
  if (!found) return null;
  const { row, rests_on } = found;
  const attributes = { bore: row.bore_mm, outside_diameter: row.outside_diameter_mm,
    width: row.width_mm, bearing_type: hit[1][0] === "7" ? "angular-contact" : "deep-groove" };
  const sides = suffixes(book, hit[2].split(" ").filter(Boolean));
  if (!sides) {
    return designation(plain, attributes,
      { asks_also: ["closure", "snap_groove", "clearance"], rests_on });
  }
  const { closure, clearance, groove } = sides;
  const shown = hit[1] + SIDES[closure] + (groove ? " N" : "")
    + (clearance === "CN" ? "" : ` ${clearance}`);
  return designation(shown, { ...attributes, closure, clearance, snap_groove: groove },
    { rests_on, rests_on_by: { closure: sides.rests_on } });
}

/** Find the row of a basic number; 72 and 73 have the dimensions of 62 and 63. */
function dimensions(book, basic) {
  const wanted = /^7[23]..$/.test(basic) ? `6${basic.slice(1)}` : basic;
  for (const name of TABLES) {
    const table = book.table(name);
    const row = table.find({ designation: wanted });
    if (row) return { row, rests_on: table.remembered ? [table.title] : [] };
  }
  return null;
}

function suffixes(book, words) {
  const rows = book.table("bearing_suffixes");
  const found = { closure: "open", clearance: "CN", groove: false, rests_on: [] };
  for (const word of words) {
    const row = rows.find({ suffix: word });
    if (row) {
      found.closure = row.closure;
      if (row.known === "memory") found.rests_on = [SUFFIXES];
    } else if (CLEARANCES.includes(word)) {
      found.clearance = word === "C0" ? "CN" : word;
    } else if (word === "N" || word === "NR") {
      found.groove = true;
    } else if (!SILENT.includes(word)) {
      const parts = split(rows, word);
      const inner = parts && suffixes(book, parts);
      if (!inner) return null;
      if (inner.closure !== "open") found.closure = inner.closure;
      if (inner.clearance !== "CN") found.clearance = inner.clearance;
      found.groove = found.groove || inner.groove;
      found.rests_on = [...found.rests_on, ...inner.rests_on];
    }
  }
  return found;
}

/** Part words written together, such as 2RSC3 or ZZNR. */
function split(rows, word) {
  const known = [...rows.records.map((row) => row.suffix), ...CLEARANCES, "NR", "N"];
  const heads = [...known].sort((a, b) => b.length - a.length);
  for (const head of heads) {
    const tail = word.slice(head.length);
    if (tail && word.startsWith(head) && [...known, ...SILENT].includes(tail)) return [head, tail];
  }
  return null;
}
