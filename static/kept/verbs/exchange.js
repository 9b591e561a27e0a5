/**
 * Exchange: a part was fitted at a fit point in place of what sat there. The fit points inside the
 * new part begin. Mirrors spares/actions/exchange.py.
 */

import { InvalidInput } from "../../domain/errors.js";
import { occurrenceId } from "../../domain/named_id.js";
import { useFirst } from "../aboard.js";
import { byNumber, fittedNow, isLive } from "../fitted.js";
import { lotFor, shares } from "./lots.js";
import { asOneAct, setting, told, wholeDay } from "./setting.js";

const LANDED = "landed";
const MOST_POINTS = 1000;

/** Take the day; what is to come, or lies before what sits there now, is a slip. */
function dayOf(given, now, today) {
  const on = wholeDay(given, "at", today);
  if (on > today) throw InvalidInput.at("#/at", "this day is still to come");
  if (now?.date && on < `${now.date}-01-01`.slice(0, 10)) {
    throw InvalidInput.at("#/at", `what sits there now was fitted later, on ${now.date}`);
  }
  return on;
}

/** Say where the old part went; null where the locker is not known here. */
function oldOut(aboard, now, { old_to, old_condition = "suspect" }) {
  const old = now ? { old_part: now.part } : {};
  if (!old_to) return { body: old, begun: [] };
  if (!now) throw InvalidInput.at("#/old_to", "nobody knows what sat there, so nothing can be put");
  if (old_to.trim().toLowerCase() === LANDED) return { body: { ...old, old_to: LANDED }, begun: [] };
  const locker = aboard.named(old_to, "locker");
  if (!locker) return null;
  const { lot, begun } = lotFor(aboard, now.part, old_condition, null);
  return { body: { ...old, old_to: locker.ref, ...(lot ? { old_lot: lot } : {}) }, begun };
}

/** Give the lot that all pieces come from: the first that has enough, else the first. */
function lotOf(aboard, part, locker, q, picked, today) {
  if (picked !== null) return picked;
  const there = aboard.cellsOf(part).filter((cell) => cell.locker === locker);
  const enough = useFirst(aboard, there, today).find((cell) => cell.quantity >= q);
  return enough ? enough.lot : shares(aboard, part, locker, q, null, today)[0][0];
}

/** Say where the new part lay; null where locker or lot are not known here. */
function newIn(aboard, part, q, { from, lot }, today) {
  if (!from) return {};
  const locker = aboard.named(from, "locker");
  const named = lot ? aboard.named(lot, "lot") : null;
  if (!locker || (lot && named?.part !== part)) return null;
  const chosen = lotOf(aboard, part, locker.ref, q, lot === "" ? "" : named?.ref ?? null, today);
  return { from: locker.ref, ...(chosen ? { lot: chosen } : {}) };
}

/** Begin the fit points that exist where this part is fitted, unless known already. */
function occurrences(aboard, point, part) {
  const taken = new Set(aboard.all("point").map((one) => one.no));
  const inside = aboard.all("inner").filter((one) => aboard.keptName(one.part) === part).sort(byNumber);
  return inside.flatMap((inner) => {
    const name = `point/${occurrenceId(point.ref, inner.ref)}`;
    const known = aboard.record(name);
    if (known) return known.gone ? [setting(aboard, name, { gone: false })] : [];
    const no = freeNumber(point.no, taken);
    taken.add(no);
    return [setting(aboard, name, told({ no, name: inner.name, machine: point.machine, parent: point.ref,
      as_part: part, template: inner.ref, pieces: inner.pieces, weight: inner.weight ?? point.weight,
      kind: inner.kind, place: inner.place }))];
  });
}

function freeNumber(parent, taken) {
  for (let number = 1; number < MOST_POINTS; number += 1) {
    if (!taken.has(`${parent}.${number}`)) return `${parent}.${number}`;
  }
  throw InvalidInput.at("#/point", "too many fit points inside it");
}

/** The part that sits at the point now, the lockers it came from and went to: one act. */
export function exchange({ aboard, body, id, today }) {
  const point = aboard.named(body.point, "point");
  const named = aboard.named(body.part, "part");
  if (!point || !named) return null;
  if (!isLive(aboard, point)) {
    throw InvalidInput.at("#/point", `${point.no} is gone: the part that it belongs to is not fitted any more`);
  }
  const part = aboard.keptName(named.ref);
  const now = fittedNow(aboard, point.ref);
  const pieces = point.pieces || 1;
  const old = oldOut(aboard, now, body);
  const fresh = newIn(aboard, part, pieces * 1000, body, today);
  if (!old || !fresh) return null;
  const act = { point: point.ref, part, date: dayOf(body.at, now, today), ...(pieces > 1 ? { q: pieces * 1000 } : {}),
    ...(body.note ? { note: body.note } : {}), ...(body.why ? { why: body.why } : {}), ...old.body, ...fresh };
  return asOneAct([...old.begun, { id, kind: "exchange", body: act }, ...occurrences(aboard, point, part)], id);
}
