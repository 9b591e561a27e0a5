/** What a person writes of a thing: left over, a risk that is taken. */

import { InvalidInput } from "../../domain/errors.js";
import { joinedId } from "../../domain/named_id.js";
import { revived, setting, wholeDay } from "./setting.js";

const CHOICES = ["keep", "give", "sell", "open"];
const OPEN = "open";

/** What shall become of a part that fits nothing any more. Mirrors spares/actions/left_over.py. */
export function leftOver({ aboard, body, id }) {
  const part = aboard.named(body.part, "part");
  if (!part || !CHOICES.includes(body.choice)) return null;
  const fields = { left_over: body.choice === OPEN ? null : body.choice };
  if (body.note !== undefined && body.note !== null) fields.left_over_note = body.note.trim() || null;
  return [setting(aboard, aboard.keptName(part.ref), fields, id)];
}

/** Somebody sails without a part that is short, or no longer. Mirrors spares/actions/accepting.py. */
export function accept({ aboard, body, id, today }) {
  const trip = aboard.named(body.trip, "trip");
  const named = aboard.named(body.part, "part");
  if (!trip || !named) return null;
  const part = aboard.keptName(named.ref);
  const doc = `trip-accept/${joinedId("trip-accept", trip.ref, part)}`;
  if (body.taken_back) {
    if (!aboard.get(doc)) throw InvalidInput.at("#/part", "nobody has accepted to go without it");
    return [setting(aboard, doc, { gone: true }, id)];
  }
  const trimmed = (text) => (text ?? "").trim() || null;
  return [setting(aboard, doc, revived(aboard, doc, { trip: trip.ref, part, by: trimmed(body.by),
    on: wholeDay(body.at, "at", today), note: trimmed(body.note) }), id)];
}
