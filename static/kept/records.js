/**
 * What this phone's copy tells of counts by their age, of joints that were tightened, of a trip's real
 * days. Mirrors counts.py, tightened.py and daily_run.py of spares/actions.
 */

import { beside, meanOf } from "../domain/daily_log.js";
import { isAboard } from "./aboard.js";
import { idOf } from "./log-index.js";
import { doubtOf, isListed, placesOf } from "./places.js";
import { dayOf } from "./verbs/late.js";

const known = (value) => (value === undefined || value === "" ? null : value);
const tenth = (minutes) => (known(minutes) === null || minutes === null ? null : Math.floor((minutes * 10 + 30) / 60) / 10);
const COMPARED = ["hours_per_day", "litres_per_day", "charge_ah_per_day"];

const sorted = (items, keyOf) => [...items].sort((one, other) => {
  const [a, b] = [keyOf(one), keyOf(other)];
  const at = a.findIndex((value, place) => value !== b[place]);
  return at < 0 ? 0 : a[at] < b[at] ? -1 : 1;
});

function lastCounted(aboard) {
  const found = new Map();
  for (const { kind, body, at } of aboard.live()) {
    if (kind !== "counted") continue;
    const key = `${aboard.keptName(body.part)} ${body.locker}`;
    const day = dayOf(at);
    if (day > (found.get(key) ?? "")) found.set(key, day);
  }
  return found;
}

function linesIn(aboard, locker, days) {
  const lines = [...aboard.partsIn(locker), ...aboard.all("lot").filter((lot) => lot.lies_in === locker).map((lot) => aboard.keptName(lot.part))];
  return sorted([...new Set(lines)].flatMap((part) => {
    const doubted = doubtOf(aboard, part, locker);
    const cells = aboard.cellsOf(part).filter((cell) => cell.locker === locker && isListed(cell));
    if (!cells.length && !doubted) return [];
    const { no = null, name = null, maker = null, number = null, unit } = aboard.get(part) ?? {};
    return [{ part: no, name, maker, number, unit: unit || "pcs", counted_on: days.get(`${part} ${locker}`) ?? null, doubted }];
  }), (line) => [Number(!line.doubted), line.counted_on ?? "", line.part ?? ""]);
}

/** List the lockers aboard with what is to be counted, what asks most first; no numbers expected. */
export function countsOf(aboard) {
  const days = lastCounted(aboard);
  const lockers = aboard.all("locker").filter((one) => isAboard(aboard, one.ref)).map((one) => {
    const lines = linesIn(aboard, one.ref, days);
    const counted = lines.map((line) => line.counted_on).filter(Boolean).sort();
    return { locker: one.no ?? null, locker_id: idOf(one.ref), name: one.name ?? null, code: one.code ?? null, lent_to: one.lent_to ?? null,
      lines, doubtful: lines.filter((line) => line.doubted).length, never: lines.filter((line) => !line.counted_on).length,
      oldest: counted[0] ?? null };
  }).filter((one) => one.lines.length);
  return { lockers: sorted(lockers, (one) => [Number(!one.doubtful), Number(!one.never), one.oldest ?? "", one.locker ?? ""]) };
}

/** Give where the pieces of a batch lie, and where one was fitted. Mirrors spares/actions/batches.py. */
export function batchOf(aboard, mark) {
  const asked = mark.split(/\s+/).filter(Boolean).join(" ");
  const lots = aboard.all("lot").filter((lot) => lot.batch && lot.batch.trim().toLowerCase() === asked.toLowerCase());
  const names = new Set(lots.map((lot) => lot.ref));
  const partOf = (name) => {
    const { no = null, name: called = null } = aboard.get(aboard.keptName(name)) ?? {};
    return { part: no, part_name: called };
  };
  const parts = new Set(lots.map((lot) => aboard.keptName(lot.part)));
  const where = [...parts].flatMap((part) => placesOf(aboard, part).filter((place) => names.has(place.lot))
    .map((place) => ({ ...partOf(part), ...place })));
  const fitted = aboard.live().filter(({ kind, body }) => kind === "exchange" && names.has(body.lot)).map(({ id, body, at }) => {
    const later = aboard.exchangesAt(body.point).some((one) => one.id !== id && one.at > at);
    const point = aboard.get(body.point);
    return { point: point?.no ?? null, name: point?.name ?? null, on: body.date ?? null, still: !later, ...partOf(body.part) };
  });
  return { mark: asked, lots: lots.map((lot) => ({ lot: lot.ref, batch: lot.batch, ...partOf(lot.part) })),
    where: sorted(where, (one) => [one.locker ?? "", one.expires ?? "9999", one.lot ?? ""]),
    fitted: sorted(fitted, (one) => [Number(!one.still), one.point ?? ""]) };
}

/** Give how a joint was tightened, newest first. */
function tightenedOf(aboard, joint) {
  return sorted(aboard.all("joint-record").filter((one) => one.joint === joint), (one) => [one.on, one.ref]).reverse()
    .map((one) => ({ on: one.on, torque_used: one.torque_used, again_on: known(one.again_on), again_at_hours: tenth(one.again_at_minutes),
      by: known(one.by), note: known(one.note) }));
}

/** Give who learned a job, newest first. Mirrors spares/actions/lessons.py. */
export function lessonsOf(aboard, service) {
  return sorted(aboard.all("lesson").filter((one) => one.service === service), (one) => [one.on, one.ref]).reverse()
    .map((one) => ({ learner: one.learner, on: one.on, seen: known(one.seen), confirmed_by: known(one.confirmed_by), note: known(one.note) }));
}

/** Redo a joint sheet, or the list of all, with what was tightened since. */
export function jointNow(joint, aboard) {
  return { ...joint, tightened: tightenedOf(aboard, `joint/${joint.id}`) };
}

/** List the joints that wait to be tightened again. */
export function toTighten(aboard) {
  const found = aboard.all("joint").flatMap((one) => {
    const [last] = tightenedOf(aboard, one.ref);
    return last && (last.again_on || last.again_at_hours !== null) ? [{ joint: one.no, name: one.name, ...last }] : [];
  });
  return sorted(found, (one) => [one.again_on ?? "9999", one.joint ?? ""]);
}

const number = (text) => (known(text) === null || text === null ? null : Number(text));

/** Redo the real days of a trip; what was planned stays as it was told. */
export function daysNow(answer, aboard) {
  const trip = aboard.named(answer.trip, "trip");
  const records = sorted(aboard.all("daily-run").filter((one) => one.trip === trip?.ref), (one) => [one.on, one.ref]).reverse();
  const runs = records.map((one) => ({ minutes: known(one.minutes), litres: number(one.litres), charge_ah: number(one.charge_ah), amps: number(one.amps) }));
  const real = meanOf(runs);
  return { ...answer, real,
    days: records.map((one, place) => ({ on: one.on, machine: aboard.get(one.machine)?.no ?? null, hours: tenth(one.minutes),
      litres: runs[place].litres, charge_ah: runs[place].charge_ah, amps: runs[place].amps, by: known(one.by), note: known(one.note) })),
    beside: Object.fromEntries(COMPARED.map((key) => [key, beside(real[key], answer.planned?.[key])])) };
}
