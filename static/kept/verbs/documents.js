/** Documents that a phone writes itself: what an engine burns, new parts, further numbers, the deck plan. */

import { canonical } from "../../sync/change.js";
import { conflict } from "../../sync/merge.js";
import { DRAWN, drawn } from "./drawing.js";
import { newNumber, newPart } from "./naming.js";
import { setting } from "./setting.js";

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

/** What an engine burns, what is drawn, what is new, which of two values holds; other fields are written at the boat's computer. */
export function document(asked) {
  const { aboard, body: { kind, doc, fields }, id } = asked;
  if (DRAWN.includes(kind)) return drawn(asked);
  if (!doc) return NEW[kind]?.(asked) ?? null;
  if (isChosen(aboard, doc, fields)) return [setting(aboard, doc, fields, id)];
  if (kind !== "machine" || !aboard.get(doc) || Object.keys(fields).join() !== "burns") return null;
  return [setting(aboard, doc, { burns: storedBurns(fields.burns) }, id)];
}
