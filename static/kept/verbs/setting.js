/** Settings of documents as drafts, each standing on the versions that this phone knows. */

import { newId } from "../../api.js";
import { InvalidInput } from "../../domain/errors.js";
import { numberedId } from "../../domain/named_id.js";
import { baseForNext } from "../../sync/merge.js";

/** Draft the setting of fields of a document; its base are the versions that nobody has replaced. */
export function setting(aboard, doc, fields, id = newId()) {
  const versions = aboard.versions(doc);
  const base = Object.fromEntries(Object.keys(fields)
    .map((name) => [name, baseForNext(versions.get(name) ?? [])]).filter(([, heads]) => heads.length));
  return { id, kind: "set", body: { doc, f: fields, base } };
}

/** Leave out what is not known, so that nothing unknown is written as a value. */
export const told = (fields) =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== null && value !== undefined));

/** Give the fields by which a document is there, also if it was taken off the books before. */
export const revived = (aboard, doc, fields) => (aboard.record(doc)?.gone ? { ...fields, gone: false } : fields);

/** Let the drafts of one act bear its id, so that they go back together. */
export function asOneAct(drafts, id) {
  if (drafts.length < 2) return drafts;
  return drafts.map((draft) => ({ ...draft, body: { ...draft.body, batch: id } }));
}

/** Give the next free number of a kind, such as O12. */
export function nextNumber(aboard, kind, letter, digits = 1) {
  const numbers = aboard.everNumbered(kind).filter((no) => no[0] === letter && /^\d+$/.test(no.slice(1)));
  const highest = Math.max(0, ...numbers.map((no) => Number(no.slice(1))));
  return letter + String(highest + 1).padStart(digits, "0");
}

/** Name the document of a kind that bears a number. */
export const numbered = (aboard, kind, no) => `${kind}/${numberedId(aboard.vessel(), kind, no)}`;

const isReal = (text) => {
  const [year, month, day] = text.split("-").map(Number);
  const at = new Date(Date.UTC(year, month - 1, day));
  return at.getUTCMonth() === month - 1 && at.getUTCDate() === day;
};

/** Read a whole day; the usual one where none is given. */
export function wholeDay(value, field, usual) {
  if ((value ?? "") === "") return usual;
  if (!/^\d{4}-\d\d-\d\d$/.test(value) || !isReal(value)) {
    throw InvalidInput.at(`#/${field}`, "a day such as 2027-03-15 is needed");
  }
  return value;
}
