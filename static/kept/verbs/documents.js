/** Documents that a phone writes itself: what an engine burns, new parts, further numbers, the deck plan. */

import { canonical } from "../../sync/change.js";
import { conflict } from "../../sync/merge.js";
import { kindOf } from "../aboard.js";
import { DRAWN, drawn } from "./drawing.js";
import { newNumber, newPart } from "./naming.js";
import { setting } from "./setting.js";

const CODED = ["locker", "machine", "lot"];
const NEW = { part: newPart, number: newNumber };

/** Numbers are kept as text, so that every device reads the same. */
const storedBurns = (burns) => burns && Object.fromEntries(Object.entries(burns).map(([name, value]) =>
  [name, name === "table" ? value.map((row) => row.map(String)) : String(value)]));

/** Say whether each field stands apart and one of its values is chosen: the setting then stands on all of them. */
function isChosen(aboard, doc, fields) {
  const versions = aboard.versions(doc);
  return aboard.get(doc) && Object.keys(fields).length > 0 && Object.entries(fields).every(([name, value]) =>
    conflict(versions.get(name) ?? []).some((head) => canonical(head.value) === canonical(value)));
}

/** Say whether another thing has come to bear the number or the code of one that is off the books. */
function isTaken(aboard, { ref, no, code }) {
  const bears = (kinds, field, value) => value && kinds.some((kind) => aboard.all(kind).some((one) => one[field] === value));
  return bears([kindOf(ref)], "no", no) || bears(CODED, "code", code);
}

/** Say whether what is off the books is to stay so, knowing of all that was written, or to come back. */
function isOfTheGone(aboard, doc, fields) {
  const record = aboard.record(doc);
  if (!record?.gone || Object.keys(fields).join() !== "gone") return false;
  return fields.gone === true || (fields.gone === false && !isTaken(aboard, record));
}

/** What an engine burns, what is drawn, what is new, which of two values holds, what comes back on the books; other fields are written at the boat's computer. */
export function document(asked) {
  const { aboard, body: { kind, doc, fields }, id } = asked;
  if (DRAWN.includes(kind)) return drawn(asked);
  if (!doc) return NEW[kind]?.(asked) ?? null;
  if (isChosen(aboard, doc, fields) || isOfTheGone(aboard, doc, fields)) return [setting(aboard, doc, fields, id)];
  if (kind !== "machine" || !aboard.get(doc) || Object.keys(fields).join() !== "burns") return null;
  return [setting(aboard, doc, { burns: storedBurns(fields.burns) }, id)];
}
