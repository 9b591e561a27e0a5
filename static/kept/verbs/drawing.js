/** The deck plan and marks on photos as changes of this phone. Mirrors spares/actions/documents.py. */

import { SparesError } from "../../api.js";
import { cornersOf } from "../../domain/deck_plan.js";
import { InvalidInput } from "../../domain/errors.js";
import { joinedId } from "../../domain/named_id.js";
import { kindOf } from "../log-index.js";
import { numbered, revived, setting, told } from "./setting.js";

/** What tells one from another where it has no number. */
const ENDS = { "deck-line": ["deck", "corners"], "deck-place": ["locker"], "photo-mark": ["photo", "point"] };
const NAMES = { deck: "deck", locker: "locker", point: "point" };

export const DRAWN = ["deck", ...Object.keys(ENDS)];

const isAlong = (value) => Number.isInteger(value) && value >= 0 && value <= 1000;

function check(aboard, fields) {
  for (const [field, kind] of Object.entries(NAMES)) {
    if (field in fields && (kindOf(fields[field]) !== kind || !aboard.get(fields[field]))) return false;
  }
  for (const field of ["x", "y"]) {
    if (field in fields && !isAlong(fields[field])) throw InvalidInput.at(`#/fields/${field}`, "0 to 1000 is needed");
  }
  if ("corners" in fields && !cornersOf(fields.corners).length) throw InvalidInput.at("#/fields/corners", "corners are needed");
  return true;
}

/** Draw a deck or one of its lines, put a locker on it, mark a fit point, or take one of these out. */
export function drawn({ aboard, body: { kind, doc, fields }, id }) {
  if (!check(aboard, fields)) return null;
  if (doc) return aboard.get(doc) ? [setting(aboard, doc, fields, id)] : null;
  if (kind === "deck" && aboard.all("deck").some((one) => one.no === fields.no)) {
    throw new SparesError("conflict", `no: ${fields.no} is taken by another deck`);
  }
  const name = kind === "deck" ? numbered(aboard, "deck", fields.no)
    : `${kind}/${joinedId(kind, ...ENDS[kind].map((end) => fields[end]))}`;
  return [setting(aboard, name, revived(aboard, name, told(fields)), id)];
}
