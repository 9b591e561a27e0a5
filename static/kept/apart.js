/**
 * Fields that people set without knowing of each other, by this phone's copy. Mirrors
 * spares/actions/apart.py, but that the copy has no names of devices: only those are known that an
 * answer of the boat's computer told.
 */

import { conflict } from "../sync/merge.js";
import { timeOf } from "../sync/stamp.js";

const NAME = /^[a-z-]+\/[0-9a-f]{8}-[0-9a-f-]{27}$/;
/** Fields that hold thousandths. */
const QUANTITIES = ["pack", "reserved"];

/** Write a stored value as people read it; null where the field was emptied. */
function textOf(aboard, field, value) {
  if (value === null || value === undefined || value === "") return null;
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (Array.isArray(value)) return value.map((one) => textOf(aboard, field, one)).join("; ");
  if (typeof value === "object") return tableText(aboard, value);
  if (NAME.test(value)) return aboard.get(value)?.no ?? "something not recorded";
  if (field.endsWith("_minutes")) return `${Math.floor((value * 10 + 30) / 60) / 10} h`;
  return String(QUANTITIES.includes(field) ? value / 1000 : value);
}

function tableText(aboard, table) {
  if ("minor" in table) return `${(table.minor / 100).toFixed(2)} ${table.currency}`;
  return Object.keys(table).sort().filter((key) => table[key] !== null)
    .map((key) => `${key} ${textOf(aboard, key, table[key])}`).join(", ");
}

/** Tell a version of a field as an answer does; `names` are those of devices that were told. */
export function told(aboard, field, { change, value, at }, names) {
  const [, , device] = at.split(".");
  return { change, value, text: textOf(aboard, field, value), at: new Date(timeOf(at)).toISOString(), device, by: names.get(device) };
}

/**
 * List what stands apart in a document: [{field, values: [{change, value, text, at, device, by}]}].
 * @param {object[]} before the same as the boat's computer told it: names, and what the copy lacks
 */
export function apartOf(aboard, doc, before = []) {
  const names = new Map(before.flatMap(({ values }) => values).map(({ device, by }) => [device, by]));
  const beyond = before.filter(({ values }) => values.some(({ change }) => !aboard.index.entries.has(change)));
  const here = [...aboard.versions(doc)].filter(([field]) => !beyond.some((one) => one.field === field))
    .map(([field, versions]) => ({ field, values: conflict(versions).map((head) => told(aboard, field, head, names)) }))
    .filter(({ values }) => values.length);
  return [...beyond, ...here].sort((one, other) => (one.field < other.field ? -1 : 1));
}

/** Put what stands apart now into an answer about a thing that tells of it. */
export function withApart(found, { aboard, touched, isKept }) {
  const doc = `${found.type}/${found.id}`;
  if (!Array.isArray(found.apart) || (!isKept && !touched.docs.has(doc))) return found;
  return { ...found, apart: apartOf(aboard, doc, found.apart) };
}
