/**
 * What was written on this phone and is not at the boat's computer yet, put into answers of before:
 * what is fitted, what was done and read, what shall become of a part, who goes without one, orders.
 */

import { dropUndone } from "../domain/book.js";
import { dueNow } from "../domain/due_now.js";
import { joinedId } from "../domain/named_id.js";
import { lineNow } from "../domain/trip_now.js";
import { bagTold, ownBagFirst } from "./bags.js";
import { fittedAt, fittedNow, isLive, retiredOn, strandedRefs } from "./fitted.js";
import { gaugesOf, testRunsOf } from "./gauges.js";
import { liveOf } from "./live.js";
import { kindOf } from "./log-index.js";
import { meterOf, shownNow, shownThen } from "./meters.js";
import { dueOfOrder, stateOfOrder } from "./orders.js";
import { layUpNow } from "./lay-up.js";
import { machinesNow } from "./machines.js";
import { placesOf } from "./places.js";
import { daysNow, jointNow, lessonsOf, toTighten } from "./records.js";
import { walkRoundNow } from "./walk-round.js";

const OVER = ["stowed", "cancelled"];

/** Look through what waits once: which sorts of thing it touches. */
export function touchedBy(aboard, waiting) {
  const undone = new Set(waiting.filter((one) => one.kind === "void").map((one) => one.body.of));
  const back = undone.size ? aboard.entries().filter((entry) => undone.has(entry.id)) : [];
  const is = (kind) => waiting.some((one) => one.kind === kind) || back.some((one) => one.kind === kind);
  const docs = new Set(waiting.filter((one) => one.kind === "set").map((one) => one.body.doc));
  const ofKind = (kind) => [...docs].some((doc) => kindOf(doc) === kind);
  return { docs, isFitting: is("exchange"), isOrdering: ofKind("order"), isAccepting: ofKind("trip-accept"),
    isNumbering: ofKind("number"), isEquipping: ofKind("machine"),
    isLearning: ofKind("lesson"), isJoining: ofKind("joint-record"), isRunning: ofKind("daily-run"),
    isGauging: is("service") || ["gauge", "gauge-reading", "test-run"].some(ofKind) };
}

const nameOf = (aboard, part) => aboard.get(part)?.name ?? "a part not recorded yet";

/** Say what sits at a fit point now, and what did before. */
function pointNow(point, aboard) {
  const doc = aboard.get(`point/${point.id}`);
  if (!doc) return point;
  const history = fittedAt(aboard, doc.ref);
  const now = fittedNow(aboard, doc.ref);
  const label = (part) => aboard.get(part)?.no ?? null;
  const before = history.slice(0, -1).map((one, place) => ({ one, until: history[place + 1].date || null }))
    .filter(({ one }) => one.part)
    .map(({ one, until }) => ({ part: label(one.part), name: nameOf(aboard, one.part), until }));
  return { ...point, live: isLive(aboard, doc), retired_on: retiredOn(aboard, doc), ...(point.before ? { before } : {}),
    fitted: now ? { part: label(now.part), name: nameOf(aboard, now.part), since: now.date || null } : null };
}

/** Describe a fit point that began here; what it asks for is told by the boat's computer. */
export function begunPoint(aboard, doc) {
  const machine = doc.machine ? aboard.get(doc.machine) : null;
  return pointNow({ type: "point", id: doc.ref.slice("point/".length), no: doc.no, name: doc.name, machine: machine?.no ?? null,
    machine_name: machine?.name ?? null, pieces: doc.pieces || 1, weight: doc.weight ?? null, kind: doc.kind ?? null,
    parent: doc.parent ? aboard.get(doc.parent)?.no ?? null : null, before: [], spares: [], tried: [], requires: [],
    services: [] }, aboard);
}

/** Give the fit point of a number that began on this phone, or null. */
export function pointBegun(aboard, number) {
  const doc = aboard.named(number, "point");
  return doc ? begunPoint(aboard, doc) : null;
}

function machineNow(machine, aboard, { docs, isFitting, isGauging }) {
  const found = { ...machine };
  const ref = `machine/${machine.id}`;
  if (isGauging && Array.isArray(machine.gauges)) {
    Object.assign(found, { gauges: gaugesOf(aboard, ref), test_runs: testRunsOf(aboard, ref) });
  }
  if (docs.has(ref) && "burns" in machine) found.burns = aboard.get(ref)?.burns ?? null;
  if (isFitting && Array.isArray(machine.points)) {
    const known = new Set(machine.points.map((point) => point.id));
    const begun = [...docs].filter((doc) => kindOf(doc) === "point").map((doc) => aboard.get(doc))
      .filter((doc) => doc && doc.machine === ref && !known.has(doc.ref.slice("point/".length)));
    found.points = [...machine.points, ...begun.map((doc) => begunPoint(aboard, doc))];
  }
  return found;
}

/** Say of each service whose fit points came or went whether its place is gone. */
function goneOf(due, aboard) {
  const places = due.services.filter((line) => line.points?.length).map((line) => {
    const points = line.points.map((no) => aboard.named(no, "point"));
    return [line, !points.some((point) => point && isLive(aboard, point)), aboard.named(line.service, "service")];
  });
  return new Map(places.filter(([line, isGone, service]) => (line.state === "not-wanted") !== isGone && !service?.not_wanted)
    .map(([line, isGone]) => [line.service, isGone]));
}

/** The due list with the work and the readings of this phone. */
function dueNowHere(due, { aboard, waiting, today, touched }) {
  const live = dropUndone(waiting);
  const worked = live.filter(({ kind, body }) => kind === "service" && body.service);
  const isRead = new Set(live.filter(({ kind, body }) => kind === "reading" && !body.doubt).map(({ body }) => body.machine));
  for (const { body } of worked) {
    const machine = body.minutes !== undefined && aboard.get(aboard.get(body.service)?.machine);
    if (machine) isRead.add(meterOf(aboard, machine)?.ref);
  }
  const records = liveOf(aboard, "service");
  const done = worked.map(({ body }) => {
    const { no, first_minutes, machine } = aboard.get(body.service) ?? {};
    const then = body.minutes === undefined ? shownThen(aboard, machine, body.date) : body.minutes;
    const isFirst = first_minutes && records.filter((one) => one.body.service === body.service).length <= 1;
    return { service: no, date: body.date, hours: body.minutes === undefined ? null : body.minutes / 60,
      at_hours: then === null ? null : then / 60,
      first_hours: isFirst ? first_minutes / 60 : null };
  });
  const read = new Set(aboard.all("machine").filter((machine) => isRead.has(meterOf(aboard, machine)?.ref)).map((one) => one.no));
  const gone = touched.isFitting ? goneOf(due, aboard) : new Map();
  const date = aboard.get(`vessel/${aboard.vessel()}`)?.baseline_on ?? null;
  const hours_of = (line) => {
    const then = date && shownThen(aboard, aboard.named(line.service, "service")?.machine, date);
    return then === null ? null : then / 60;
  };
  const first_of = (line) => {
    const minutes = aboard.named(line.service, "service")?.first_minutes;
    return minutes ? minutes / 60 : null;
  };
  return dueNow(due, { done, read, gone, shown: shownNow(aboard), baseline: { date, hours_of }, first_of }, today);
}

function acceptedNow(aboard, trip, part) {
  const found = aboard.get(`trip-accept/${joinedId("trip-accept", trip, part)}`);
  return found ? { by: found.by ?? null, on: found.on ?? null, note: found.note ?? null } : null;
}

/** A trip's list: usable as counted now, who goes without, and what is on order. */
function planNow(plan, before, aboard, touched, today) {
  const trip = `trip/${plan.trip.id}`;
  const lines = plan.lines.map((line, place) => {
    const part = `part/${line.id}`;
    const accepted = touched.isAccepting ? acceptedNow(aboard, trip, part) : line.accepted ?? null;
    const isOther = Boolean(accepted) !== Boolean(line.accepted);
    const state = isOther && line.state === "accepted" ? "short" : line.state;
    const now = { ...line, accepted, state, ...(touched.isOrdering ? orderedNow(aboard, part) : {}) };
    if (!isOther && line.usable === before.lines[place].usable) return now;
    const redone = lineNow(now, line.usable, plan.trip, today);
    return accepted && redone.short > 0 ? { ...redone, state: "accepted" } : redone;
  });
  return { ...plan, lines };
}

/** What to take for a job from where, by the counts of now. */
function cardNow(card, aboard, touched, today) {
  const stranded = strandedRefs(aboard);
  const job = aboard.named(card.service ?? "", "service")?.ref ?? "";
  const kit = card.kit.map((line) => {
    const part = aboard.named(line.part, "part")?.ref;
    const cells = stranded.has(part) ? [] : placesOf(aboard, part)
      .filter((place) => place.quantity > 0 && place.aboard && place.condition !== "suspect"
        && (!place.expires || `${place.expires}-01-01`.slice(0, 10) >= today));
    const usable = cells.reduce((sum, place) => sum + place.quantity * 1000, 0) / 1000;
    const short = Math.max(0, Math.round((line.needed - usable) * 1000)) / 1000;
    return { ...line, usable, short, take: takeFrom(ownBagFirst(aboard, job, cells, (one) => `locker/${one.locker_id}`), line.needed) };
  });
  const machine = touched.isGauging && card.gauges && card.machine ? aboard.named(card.machine, "machine") : null;
  const gauges = machine ? { gauges: gaugesOf(aboard, machine.ref) } : {};
  const service = touched.isLearning && card.lessons ? aboard.named(card.service, "service") : null;
  const lessons = service ? { lessons: lessonsOf(aboard, service.ref) } : {};
  const bag = job && "bag" in card ? { bag: bagTold(aboard, job, today) } : {};
  return { ...card, ...gauges, ...lessons, ...bag, kit, missing: kit.filter((line) => line.short).map((line) => line.part) };
}

/** Say how much to take from which locker, in walking order, until there is enough. */
function takeFrom(cells, needed) {
  const taken = new Map();
  let left = Math.round(needed * 1000);
  for (const place of cells) {
    const q = Math.min(Math.round(place.quantity * 1000), left);
    if (q <= 0) continue;
    const { locker, locker_id, name, code, lent_to, reachable } = place;
    const before = taken.get(locker_id)?.quantity ?? 0;
    taken.set(locker_id, { locker, locker_id, name, code, lent_to, quantity: before + q / 1000, reachable });
    left -= q;
  }
  return [...taken.values()];
}

function orderedNow(aboard, part) {
  const open = aboard.all("order").filter((one) => aboard.keptName(one.part) === part && !OVER.includes(stateOfOrder(one)));
  return { ordered: open.map((one) => ({ order: one.no, quantity: (one.q ?? 0) / 1000, state: stateOfOrder(one),
    due_on: dueOfOrder(aboard, one) })) };
}

function leftOverNow(line, aboard, docs) {
  const ref = line.type === "part" && line.id ? `part/${line.id}` : aboard.named(line.part ?? line.no ?? "", "part")?.ref;
  if (!ref || !docs.has(ref)) return line;
  const { left_over, left_over_note = null } = aboard.get(ref) ?? {};
  return { ...line, left_over: left_over ? { choice: left_over, note: left_over_note } : null };
}

const numberText = ({ maker, number }) => `${maker ?? ""} ${number}`;

/** Add to the numbers of a part those that were written here. */
export function withNumbers(line, aboard) {
  const known = new Set(line.numbers.map(numberText));
  const more = aboard.numbersOf(`part/${line.id}`).filter((one) => !known.has(numberText(one)));
  return more.length ? { ...line, numbers: [...line.numbers, ...more] } : line;
}

/** Tell the list of machines from other things that name some: a leg of a trip, a picture of a plan. */
function isListOfMachines(found) {
  if (!Array.isArray(found.machines) || "progress" in found) return false;
  return found.machines.length ? found.machines.every((one) => one.type === "machine") : Object.keys(found).length === 1;
}

/**
 * Put what was written here into one object of an answer.
 * @param {object} found with the counts of now  @param {object} before as it was told
 */
export function withWritten(found, before, around) {
  const { aboard, waiting, touched, today, isKept } = around;
  if (found.type === "point" && touched.isFitting) return pointNow(found, aboard);
  if (touched.isEquipping && isListOfMachines(found)) return machinesNow(found, aboard);
  if (found.type === "machine") return machineNow(found, aboard, touched);
  if (Array.isArray(found.points) && "says_nothing" in found) return layUpNow(found, aboard, today);
  if (touched.isJoining && Array.isArray(found.tightened)) return jointNow(found, aboard);
  if (touched.isJoining && Array.isArray(found.to_tighten)) return { ...found, to_tighten: toTighten(aboard) };
  if (touched.isRunning && "beside" in found && Array.isArray(found.days)) return daysNow(found, aboard);
  if (Array.isArray(found.machines) && "progress" in found) return walkRoundNow(found, aboard, today);
  if (Array.isArray(found.services) && "until" in found) {
    return waiting.length || isKept ? dueNowHere(found, around) : found;
  }
  if (Array.isArray(found.lines) && found.trip?.departs_on && "kit" in found) return planNow(found, before, aboard, touched, today);
  if (Array.isArray(found.kit) && Array.isArray(found.shut_off)) return cardNow(found, aboard, touched, today);
  if (touched.isNumbering && found.type === "part" && found.numbers) return withNumbers(leftOver(found, around), aboard);
  return leftOver(found, around);
}

function leftOver(found, { aboard, touched }) {
  return "left_over" in found && touched.docs.size ? leftOverNow(found, aboard, touched.docs) : found;
}
