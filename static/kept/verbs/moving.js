/** What moves pieces: took, landed, put, moved, lent, counted. Mirrors these files of spares/actions. */

import { InvalidInput } from "../../domain/errors.js";
import { joinedId } from "../../domain/named_id.js";
import { fold } from "../../domain/search_text.js";
import { lotFacts, useFirst } from "../aboard.js";
import { doubtName } from "../places.js";
import { dated } from "./late.js";
import { cutUp, lotFor, shares } from "./lots.js";
import { asOneAct, revived, setting, wholeDay } from "./setting.js";

const MOST_PLACES = 10_000;
const THOUSAND = 1000;

export const thousandths = (quantity) => Math.round(Number(quantity ?? 1) * THOUSAND);
const noted = (body) => (body.note ? { note: body.note } : {});

/** Find part and locker by what they are called; null where the copy does not know them. */
function placed(aboard, body, lockerName = body.locker) {
  const part = aboard.named(body.part, "part");
  const locker = aboard.named(lockerName, "locker");
  const lot = body.lot ? aboard.named(body.lot, "lot") : null;
  if (!part || !locker || (body.lot && lot?.part !== part.ref)) return null;
  const picked = body.lot === "" ? "" : lot?.ref ?? null;
  return { part: aboard.keptName(part.ref), locker: locker.ref, lot: picked };
}

/** Give the verb that takes pieces out of a locker: `took` (used) or `landed` (out for good). */
export function oneWay(kind) {
  return (asked) => {
    const { aboard, body, id, today } = asked;
    const at = placed(aboard, body);
    const machine = body.machine ? aboard.named(body.machine, "machine") : null;
    if (!at || (body.machine && !machine)) return null;
    const q = thousandths(body.quantity);
    const more = { ...noted(body), ...(machine ? { machine: machine.ref } : {}) };
    return asOneAct(dated(asked, cutUp(kind, id, shares(aboard, at.part, at.locker, q, at.lot, today)
      .map(([lot, share]) => ({ part: at.part, locker: at.locker, lot, q: share, ...more })))), id);
  };
}

/** Pieces were stowed: bought, brought back, found. */
export function put(asked) {
  const { aboard, body, id } = asked;
  const at = placed(aboard, body);
  if (!at) return null;
  const { lot, begun } = at.lot === null
    ? lotFor(aboard, at.part, body.condition, body.expires, body.batch) : { lot: at.lot, begun: [] };
  return asOneAct(dated(asked, [...begun, { id, kind: "put", body: {
    part: at.part, locker: at.locker, lot, q: thousandths(body.quantity), ...noted(body) } }]), id);
}

/** Give {lots to begin, body} of the pieces of one lot that become something else on the way. */
function changed(aboard, body, condition) {
  if (!condition) return { begun: [], body };
  const { lot, begun } = lotFor(aboard, body.part, condition, lotFacts(aboard, body.lot).expires);
  if (body.from === body.to && lot === body.lot) {
    throw InvalidInput.at("#/to_condition", "it is that already");
  }
  return { begun, body: lot === body.lot ? body : { ...body, to_lot: lot } };
}

function movedTo({ aboard, body, id, today }, to) {
  const at = placed(aboard, body, body.from ?? body.locker);
  if (!at) return null;
  if (at.locker === to && !body.to_condition) throw InvalidInput.at("#/to", "it lies there already");
  const found = shares(aboard, at.part, at.locker, thousandths(body.quantity), at.lot, today)
    .map(([lot, q]) => changed(aboard, { part: at.part, from: at.locker, to, lot, q, ...noted(body),
      ...(body.back_by ? { back_by: body.back_by } : {}) },
      body.to_condition));
  const begun = new Map(found.flatMap((one) => one.begun).map((draft) => [draft.body.doc, draft]));
  return [...begun.values(), ...cutUp("moved", id, found.map((one) => one.body))];
}

/** Pieces went to another locker, or became something else where they lie. */
export function moved(asked) {
  const to = asked.aboard.named(asked.body.to, "locker");
  const drafts = to && movedTo(asked, to.ref);
  return drafts && asOneAct(dated(asked, drafts), asked.id);
}

/** Pieces went to somebody, by name: they stand in a place of that name until they are moved back. */
export function lent(asked) {
  const { aboard, body, id, today } = asked;
  if (wholeDay(body.back_by, "back_by", today) < today) throw InvalidInput.at("#/back_by", "this day is over");
  const who = body.who.trim();
  const place = `locker/${joinedId("locker", aboard.vessel(), "lent", fold(who))}`;
  const begun = setting(aboard, place, { no: lentNumber(aboard, place), name: `Lent to ${who}`, lent_to: who,
    aboard: false, reachable: false, gone: false });
  const drafts = movedTo(asked, place);
  return drafts && asOneAct([begun, ...drafts], id);
}

/** Number borrowers' places apart from lockers, so that both stay short. */
function lentNumber(aboard, place) {
  const known = aboard.record(place)?.no;
  if (known) return known;
  const taken = new Set(aboard.all("locker").map((one) => one.no));
  for (let number = 1; number < MOST_PLACES; number += 1) if (!taken.has(`LENT${number}`)) return `LENT${number}`;
  throw InvalidInput.at("#/who", "too many borrowers");
}

/** What is there, whatever was written before. */
export function counted({ aboard, body, id, today }) {
  const at = placed(aboard, body);
  if (!at) return null;
  const q = thousandths(body.quantity);
  const there = aboard.cellsOf(at.part).filter((cell) => cell.locker === at.locker);
  const byLot = at.lot !== null ? new Map([[at.lot, q]]) : countByLot(useFirst(aboard, there, today), q);
  const shown = new Map(there.map((cell) => [cell.lot, cell.quantity]));
  const doubt = doubtName(at.part, at.locker);
  return asOneAct([...cutUp("counted", id, [...byLot].map(([lot, share]) => ({
    part: at.part, locker: at.locker, lot, q: share, shown: shown.get(lot) ?? 0, ...noted(body) }))),
  ...(aboard.get(doubt) ? [setting(aboard, doubt, { gone: true })] : [])], id);
}

/** The count of a part in a locker is called doubtful, without counting. Mirrors spares/actions/doubt.py. */
export function doubt({ aboard, body, id, today }) {
  const [part, locker] = [aboard.named(body.part, "part"), aboard.named(body.locker, "locker")];
  if (!part || !locker) return null;
  const name = aboard.keptName(part.ref);
  const doc = doubtName(name, locker.ref);
  const trimmed = (text) => (text ?? "").trim() || null;
  if (body.taken_back) {
    if (!aboard.get(doc)) throw InvalidInput.at("#/taken_back", "nobody has called this count doubtful");
    return [setting(aboard, doc, { gone: true }, id)];
  }
  return [setting(aboard, doc, revived(aboard, doc, { part: name, locker: locker.ref, on: today, by: trimmed(body.by),
    note: trimmed(body.note) }), id)];
}

/** Spread a count of all: what is missing is taken off the lots used first, more goes to the last. */
function countByLot(lots, q) {
  if (!lots.length) return new Map([["", q]]);
  let missing = lots.reduce((sum, cell) => sum + Math.max(cell.quantity, 0), 0) - q;
  const found = new Map();
  for (const { lot, quantity } of lots) {
    const gone = Math.min(Math.max(missing, 0), Math.max(quantity, 0));
    found.set(lot, Math.max(quantity, 0) - gone);
    missing -= gone;
  }
  if (missing < 0) found.set(lots.at(-1).lot, found.get(lots.at(-1).lot) - missing);
  return found;
}
