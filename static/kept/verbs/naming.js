/** What parts are called: a part that is new aboard, a further number, two records that are one part. */

import { SparesError, newId } from "../../api.js";
import { InvalidInput } from "../../domain/errors.js";
import { joinedId } from "../../domain/named_id.js";
import { kindOf } from "../log-index.js";
import { numbered, revived, setting, told } from "./setting.js";

const PART_FIELDS = ["no", "name", "maker", "number", "kind", "unit", "note"];
const NUMBER_FIELDS = ["part", "maker", "number", "what"];
/** The number of a part, and of one that began on a phone. */
const NUMBER = /^P(\d+)(-[0-9A-Z]{3})?$/;
const DIGITS = 3;

/** Two part records turned out to be one part. Mirrors spares/actions/same.py. */
export function same({ aboard, body, id }) {
  const named = [body.keep, body.drop].map((text) => aboard.named(text, "part"));
  if (!named.every(Boolean)) return null;
  const [keep, drop] = named.map(({ ref }) => aboard.keptName(ref));
  if (keep === drop) throw InvalidInput.at("#/drop", "this is the same record");
  return [{ id, kind: "same", body: { keep, drop } }];
}

/**
 * Begin a part. Mirrors spares/actions/documents.py, but that the number it gets bears three
 * characters of this phone's own: another phone that is away may begin one at the same time.
 */
export function newPart({ aboard, body: { fields }, id, dev }) {
  if (!holdsOnly(fields, PART_FIELDS) || !fields.name) return null;
  const no = fields.no || nextOf(aboard, dev);
  if (aboard.all("part").some((part) => part.no === no)) throw new SparesError("conflict", `no: ${no} is taken by another part`);
  const begun = numbered(aboard, "part", no);
  const doc = aboard.get(begun) ? `part/${newId()}` : begun;    // what was begun under it bears another number by now
  return [setting(aboard, doc, revived(aboard, doc, { ...told(fields), no }), id)];
}

function nextOf(aboard, dev) {
  const taken = aboard.everNumbered("part").map((no) => Number(NUMBER.exec(no)?.[1] ?? 0));
  const next = String(Math.max(0, ...taken) + 1).padStart(DIGITS, "0");
  return `P${next}-${dev.slice(0, 3).toUpperCase()}`;
}

/** Write down a further number of a part. Mirrors spares/actions/documents.py. */
export function newNumber({ aboard, body: { fields }, id }) {
  const { part, number } = fields;
  if (!holdsOnly(fields, NUMBER_FIELDS) || !number || kindOf(part ?? "") !== "part" || !aboard.get(part)) return null;
  const doc = `number/${joinedId("number", part, number)}`;
  return [setting(aboard, doc, revived(aboard, doc, told(fields)), id)];
}

const holdsOnly = (fields, names) => Object.keys(fields).every((name) => names.includes(name));
