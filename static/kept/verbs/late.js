/** A movement that is typed in later bears its day. Mirrors spares/actions/late.py. */

import { SparesError } from "../../api.js";
import { InvalidInput } from "../../domain/errors.js";
import { effects } from "../../domain/movements.js";
import { joinedId } from "../../domain/named_id.js";
import { wholeDay } from "./setting.js";

const MOVES = ["took", "put", "landed", "moved"];
const SIDES = ["before", "after"];

/** Give the day of a stamp, UTC. */
export const dayOf = (stamp) => new Date(parseInt(stamp.slice(0, 12), 16)).toISOString().slice(0, 10);

/** Give the newest count of a cell that stands, or null. */
function countOf(aboard, { part, locker, lot }) {
  const counts = aboard.live().filter((entry) => entry.kind === "counted" && aboard.keptName(entry.body.part) === aboard.keptName(part)
    && entry.body.locker === locker && (entry.body.lot ?? "") === (lot ?? ""));
  return counts.reduce((last, entry) => (!last || entry.at > last.at ? entry : last), null);
}

/** Give movements the day on which they happened, and what settles them against counts made since. */
export function dated({ aboard, body, today }, drafts) {
  const side = body.counted_since ?? null;
  if (side !== null && !SIDES.includes(side)) throw InvalidInput.at("#/counted_since", "before or after is needed");
  const on = wholeDay(body.at, "at", today);
  if (on > today) throw InvalidInput.at("#/at", "this day is still to come");
  if (on === today) return drafts;
  const late = drafts.map((draft) => (MOVES.includes(draft.kind) ? { ...draft, body: { ...draft.body, date: on } } : draft));
  const since = late.filter((draft) => MOVES.includes(draft.kind)).flatMap((draft) => effects(draft)
    .map((effect) => [draft.id, countOf(aboard, effect)]).filter(([, count]) => count && dayOf(count.at) >= on));
  if (since.length && side === null) {
    const counted = since.map(([, count]) => dayOf(count.at)).sort().at(-1);
    throw new SparesError("ask-first", "counted since", { asks: "counted-since", counted_on: counted,
      errors: [{ pointer: "#/counted_since", detail: "before or after?" }] });
  }
  const settled = side === "before" ? since.map(([move, count]) => ({ id: joinedId("settle", move, count.id), kind: "settle",
    body: { of: move, count: count.id, side: "before" } })) : [];
  return [...late, ...settled];
}
