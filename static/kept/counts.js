/**
 * Puts the counts of now into an answer that the boat's computer gave earlier, or gave without
 * knowing what still waits on this phone: quantities, ranges, doubts, places, hours read, work done.
 */

import { effects } from "../domain/movements.js";
import { lotFacts } from "./aboard.js";
import { withApart } from "./apart.js";
import { liveOf } from "./live.js";
import { idOf } from "./log-index.js";
import { lastRead, meterOf } from "./meters.js";
import { figures, isListed, placesOf } from "./places.js";
import { touchedBy, withWritten } from "./written.js";

/** Name the parts that the waiting changes touch. */
export function partsTouched(aboard, waiting) {
  const named = new Set(waiting.filter((one) => ["void", "settle"].includes(one.kind)).map((one) => one.body.of));
  const changes = named.size
    ? [...waiting, ...aboard.entries().filter((entry) => named.has(entry.id))] : waiting;
  return new Set(changes.flatMap((change) => (change.kind === "same" ? [change.body.keep, change.body.drop]
    : effects(change).map(({ part }) => aboard.keptName(part)))));
}

/**
 * Give the answer with the counts of now.
 * @param {Set<string>|null} parts only these; null: all that the answer names
 */
export function withCountsOfNow(answer, { aboard, waiting, parts, today }) {
  const around = { aboard, waiting, today, isKept: !parts, touched: touchedBy(aboard, waiting) };
  const isMeant = (name) => Boolean(name) && (!parts || parts.has(name));
  const visit = (value) => {
    if (Array.isArray(value)) return value.map(visit);
    if (value === null || typeof value !== "object") return value;
    const deep = Object.fromEntries(Object.entries(value).map(([key, one]) => [key, visit(one)]));
    return withApart(withWritten(counted(deep), value, around), around);
  };
  const counted = (deep) => {
    if (deep.type === "machine") return withReadings(deep, aboard, waiting);
    if (deep.type === "service") return withWork(deep, aboard, waiting);
    if (deep.type === "locker" && deep.lines) return withLines(deep, aboard, isMeant, today);
    return Array.isArray(deep.where) ? withWhere(deep, aboard, isMeant, today) : deep;
  };
  return visit(answer);
}

function partOf(line, aboard) {
  if (line.type === "part" || "state" in line) return line.id ? `part/${line.id}` : null;
  return typeof line.part === "string" ? aboard.named(line.part, "part")?.ref : null;
}

function withWhere(line, aboard, isMeant, today) {
  const part = partOf(line, aboard);
  if (!isMeant(part)) return line;
  const where = placesOf(aboard, part);
  return { ...line, where, ...totals(line, where, today) };
}

/** Work the totals of a part line out anew; what stand-ins add stays as it was told. */
function totals(line, where, today) {
  if (!("usable" in line)) return {};
  const own = (places) => places.reduce((sum, one) => sum + (isGood(one, today) ? one.quantity : 0), 0);
  const usable = Number((line.usable + own(where) - own(line.where)).toFixed(3));
  const there = where.reduce((sum, one) => sum + (one.aboard ? one.quantity : 0), 0);
  const found = { usable };
  if ("aboard" in line) found.aboard = Number(there.toFixed(3));
  if (line.state && !("minimum" in line)) found.state = stateOf(where, usable, line.need);
  return found;
}

const isGood = (place, today) => place.aboard && place.condition !== "suspect"
  && (!place.expires || `${place.expires}-01-01`.slice(0, 10) >= today);

function stateOf(where, usable, need) {
  if (where.some((one) => !one.counted)) return "not-counted";
  if (!need) return null;
  if (usable >= need) return "enough";
  return usable > 0 ? "low" : "none";
}

/** A locker's lines: each shows the cell that lies here. */
function withLines(locker, aboard, isMeant, today) {
  const here = `locker/${locker.id}`;
  const lines = locker.lines.flatMap((line) => {
    const part = `part/${line.id}`;
    if (!isMeant(part)) return [line];
    const cell = aboard.cellsOf(part).find((one) => one.locker === here && one.lot === (line.lot ?? ""));
    if (!cell) return [];
    return isListed(cell) ? [{ ...line, ...figures(cell), counted: cell.counted !== false }] : [];
  });
  const known = new Set(lines.map((line) => `${line.id} ${line.lot ?? ""}`));
  for (const part of [...aboard.partsIn(here)].filter(isMeant)) {
    for (const cell of aboard.cellsOf(part)) {
      const key = `${idOf(part)} ${cell.lot}`;
      if (cell.locker !== here || cell.counted === false || !isListed(cell) || known.has(key)) continue;
      lines.push({ ...bareLine(aboard, part, today), ...figures(cell), counted: true, lot: cell.lot || null,
        ...lotFacts(aboard, cell.lot) });
    }
  }
  return { ...locker, lines };
}

/** Tell what a part sits at or goes with, by its links alone. */
function fitsOf(aboard, part) {
  return aboard.linksOf(part).map(({ to, role, proof, use, note }) => {
    const end = (to && aboard.get(to)) || {};
    const isMachine = to?.startsWith("machine/");
    const machine = isMachine ? end : (end.machine && aboard.get(end.machine)) || {};
    return { point: isMachine ? null : end.no ?? null, name: end.name ?? null, machine: machine.no ?? null,
      machine_name: machine.name ?? null, live: true, role: role ?? "takes", proof: proof ?? null,
      use: use ?? null, note: note ?? null, with_part: null };
  });
}

/** A part's line by its documents alone: what is wanted of it is not known here. */
export function bareLine(aboard, part, today) {
  const { no = null, name = null, maker = null, number = null, kind = null, unit } = aboard.get(part) ?? {};
  const line = {
    type: "part", id: idOf(part), no, name, maker, number, kind, unit: unit || "pcs", made: null,
    dropped_on: null, taken_over_by: null, state: null, aboard: 0, usable: 0, need: null, tags: [],
    fits: fitsOf(aboard, part), where: [], stand_ins: [], numbers: aboard.numbersOf(part), price: null, lead_days: null, seller: null,
    use: null, note: null,
  };
  return withWhere(line, aboard, () => true, today);
}

const hoursOf = (minutes) => (minutes === undefined ? null : Math.floor((minutes * 10 + 30) / 60) / 10);

/** Give what of a kind is in the log and undone by what waits; what never left this phone is in no answer. */
const undoneHere = (aboard, waiting, kind) => waiting.filter((one) => one.kind === "void")
  .map(({ body }) => aboard.index.entries.get(body.of)).filter((one) => one?.kind === kind);

/** Give what of a kind waits here and stands. */
const standing = (aboard, waiting, kind) => {
  const live = new Set(liveOf(aboard, kind).map(({ id }) => id));
  return waiting.filter((one) => one.kind === kind && live.has(one.id));
};

function withReadings(machine, aboard, waiting) {
  const ref = `machine/${machine.id}`;
  const [read, undone] = [standing, undoneHere].map((some) => some(aboard, waiting, "reading"));
  const meter = meterOf(aboard, aboard.get(ref))?.ref ?? ref;
  if (![...read, ...undone].some(({ body }) => [ref, meter].includes(body.machine))) return machine;
  const last = lastRead(aboard, meter);
  const gone = new Set(undone.map(({ id }) => id));
  const more = read.filter(({ body }) => body.machine === ref && body.minutes !== undefined).map(({ id, body }) => ({ change: id,
    date: body.date, hours: hoursOf(body.minutes), because: body.because ?? null, doubt: body.doubt ?? null }));
  const readings = machine.readings && { readings: [...machine.readings.filter(({ change }) => !gone.has(change)), ...more] };
  return { ...machine, hours: last && hoursOf(last.minutes), read_on: last && last.on, ...readings };
}

function withWork(service, aboard, waiting) {
  if (!service.done) return service;
  const isIts = ({ body }) => body.service === `service/${service.id}`;
  const told = ({ body }) => ({ date: body.date || null, hours: hoursOf(body.minutes), by: body.by || null, proof: body.proof || null });
  const done = [...service.done];
  for (const { date, hours } of undoneHere(aboard, waiting, "service").filter(isIts).map(told)) {
    const place = done.findIndex((one) => one.date === date && one.hours === hours);
    if (place >= 0) done.splice(place, 1);
  }
  return { ...service, done: [...standing(aboard, waiting, "service").filter(isIts).map(told).reverse(), ...done] };
}
