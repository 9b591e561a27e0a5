/**
 * Fuses: `5x20 T 2A 250V`, `blade-mini 15 A`: body, speed, rating, voltage.
 * Mirrors spares/domain/fit/designations/fuses.py; marking by IEC 60127, blade forms of ISO 8820-3.
 */

import { convert, formatNumber, parseQuantity } from "../../units.js";
import { designation } from "./designation.js";

const FORMS = [["blade-micro2", ["micro2", "blade micro2", "micro-2"]],
  ["blade-mini", ["mini", "blade mini"]], ["blade-regular", ["regular", "blade regular"]],
  ["blade-maxi", ["maxi", "blade maxi"]], ["5x20", ["5x20", "5 x 20"]],
  ["6.3x32", ["6.3x32", "6,3x32", "6 x 32", "6x32"]], ["bolt-down", ["bolt-down", "bolt down"]]];
const RATING = /^(?:(?<speed>FF|F|M|TT|T)\s*)?(?<a>\d+(?:[.,]\d+)?)\s*(?<unit>M?A)$/;
const VOLTS = /(?<v>\d+)\s*V\s*(?<kind>AC|DC)?/;

/** Read the marking of a fuse, such as `5x20 T 2 A 250 V`. */
export function read(book, text) {
  const whole = text.replaceAll("×", "x").trim().split(/\s+/).join(" ");
  const { form, rest } = formOf(whole);
  const made = form ? { form } : {};
  const volts = VOLTS.exec(rest.toUpperCase());
  if (volts) {
    made.voltage_v = Number(volts.groups.v);
    if (volts.groups.kind) made.current_kind = volts.groups.kind.toLowerCase();
  }
  const left = volts ? rest.slice(0, volts.index) + rest.slice(volts.index + volts[0].length) : rest;
  const rating = RATING.exec(left.trim().toUpperCase().replace(/^[ ,-]+|[ ,-]+$/g, ""))?.groups;
  if (!rating) return null;
  const unit = rating.unit === "MA" ? "mA" : "A";
  made.rating_a = formatNumber(convert(parseQuantity(`${rating.a} ${unit}`, "A"), "A").amount);
  if (rating.speed) made.speed = rating.speed;
  return designation(textOf(made), made);
}

function formOf(whole) {
  for (const [form, names] of FORMS) {
    const hit = [form, ...names].sort((a, b) => b.length - a.length)
      .find((name) => whole.toLowerCase().startsWith(name));
    if (hit) return { form, rest: whole.slice(hit.length).trim() };
  }
  return { form: null, rest: whole };
}

function textOf({ form, speed, rating_a, voltage_v, current_kind }) {
  return [form, speed, `${rating_a} A`, voltage_v === undefined ? "" : `${voltage_v} V`,
    current_kind?.toUpperCase()].filter(Boolean).join(" ");
}
