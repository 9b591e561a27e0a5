/**
 * The verbs of the screens as changes of this phone: which things are named, which lots it comes
 * from, what is undone. Mirrors the movements of spares/actions. What needs the boat's computer (a
 * new lot, an exchange, a trip) gives null here and is asked for there.
 */

import { SparesError, newId } from "../api.js";
import { readingDoubt } from "../domain/meter.js";
import { effects } from "../domain/movements.js";
import { isUsable, kindOf, useFirst } from "./aboard.js";

const VOIDABLE = ["took", "put", "landed", "moved", "counted", "convert", "service", "reading",
  "exchange", "settle", "photo"];

const thousandths = (quantity) => Math.round(Number(quantity ?? 1) * 1000);
const noted = (body) => (body.note ? { note: body.note } : {});

/** Cut one act into its changes: the first bears its id, and all name it where there are several. */
function cutUp(kind, id, bodies) {
  if (bodies.length === 1) return [{ id, kind, body: bodies[0] }];
  return bodies.map((body, place) =>
    ({ id: place ? newId() : id, kind, body: { ...body, batch: id } }));
}

/** Say how many come from which lot of a locker; what is not there comes from the last drawn on. */
function shares(aboard, part, locker, q, lot, day) {
  if (lot !== null) return [[lot, q]];
  const there = aboard.cellsOf(part).filter((cell) => cell.locker === locker);
  const found = [];
  let left = q;
  for (const cell of useFirst(aboard, there, day)) {
    const take = Math.min(left, cell.quantity);
    if (take > 0) {
      found.push([cell.lot, take]);
      left -= take;
    }
  }
  if (left > 0 && found.length) found.at(-1)[1] += left;
  else if (left > 0) found.push([there.length === 1 ? there[0].lot : "", left]);
  return found;
}

/** Find part and locker by what they are called; null where the copy does not know them. */
function placed(aboard, body, lockerName = body.locker) {
  const part = aboard.named(body.part, "part");
  const locker = aboard.named(lockerName, "locker");
  const lot = body.lot ? aboard.named(body.lot, "lot") : null;
  if (!part || !locker || (body.lot && lot?.part !== part.ref)) return null;
  const picked = body.lot === "" ? "" : lot?.ref ?? null;
  return { part: aboard.keptName(part.ref), locker: locker.ref, lot: picked };
}

function oneWay(kind) {
  return ({ aboard, body, id, today }) => {
    const at = placed(aboard, body);
    const machine = body.machine ? aboard.named(body.machine, "machine") : null;
    if (!at || (body.machine && !machine)) return null;
    const q = thousandths(body.quantity);
    const more = { ...noted(body), ...(machine ? { machine: machine.ref } : {}) };
    return cutUp(kind, id, shares(aboard, at.part, at.locker, q, at.lot, today)
      .map(([lot, share]) => ({ part: at.part, locker: at.locker, lot, q: share, ...more })));
  };
}

/** Give the lot that new pieces of this condition and date belong to; null: it has to be begun. */
function lotFor(aboard, part, condition, expires) {
  if (condition === "new" && !expires) return "";
  return aboard.all("lot").find((lot) => lot.part === part && lot.condition === condition
    && (lot.expires || "") === (expires || "") && !lot.batch && !lot.lies_in)?.ref ?? null;
}

function put({ aboard, body, id }) {
  const at = placed(aboard, body);
  if (!at) return null;
  const lot = at.lot ?? lotFor(aboard, at.part, body.condition ?? "new", body.expires);
  if (lot === null) return null;
  return [{ id, kind: "put", body: {
    part: at.part, locker: at.locker, lot, q: thousandths(body.quantity), ...noted(body) } }];
}

function moved({ aboard, body, id, today }) {
  const at = placed(aboard, body, body.from);
  const to = aboard.named(body.to, "locker");
  if (!at || !to || at.locker === to.ref || body.to_condition) return null;
  return cutUp("moved", id, shares(aboard, at.part, at.locker, thousandths(body.quantity), at.lot, today)
    .map(([lot, q]) => ({ part: at.part, from: at.locker, to: to.ref, lot, q, ...noted(body) })));
}

function counted({ aboard, body, id, today }) {
  const at = placed(aboard, body);
  if (!at) return null;
  const q = thousandths(body.quantity);
  const there = aboard.cellsOf(at.part).filter((cell) => cell.locker === at.locker);
  const byLot = at.lot !== null ? new Map([[at.lot, q]]) : countByLot(useFirst(aboard, there, today), q);
  const shown = new Map(there.map((cell) => [cell.lot, cell.quantity]));
  return cutUp("counted", id, [...byLot].map(([lot, share]) => ({
    part: at.part, locker: at.locker, lot, q: share, shown: shown.get(lot) ?? 0, ...noted(body) })));
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

/** Give the machine whose counter a machine goes by, or null. */
function meterOf(aboard, machine) {
  const seen = new Set();
  let one = machine;
  while (one && !seen.has(one.ref)) {
    seen.add(one.ref);
    if (!one.counter || one.counter === "own") return one;
    one = one.counter === "none" || !one.counter_of ? null : aboard.get(one.counter_of);
  }
  return null;
}

const startsAnew = (because) => (because ?? "").trim().toLowerCase().startsWith("new counter");

function doubtOf(aboard, machine, reading) {
  const history = aboard.live().filter(({ kind, body }) => kind === "reading"
    && body.machine === machine && body.minutes !== undefined).map(({ body }) => ({
    on: `${body.date}-01-01`.slice(0, 10), minutes: body.minutes, new_counter: startsAnew(body.because),
    doubt: startsAnew(body.because) ? null : body.doubt ?? null }));
  return readingDoubt(history, reading);
}

const minutesOf = (hours) => Math.round(Number(String(hours).replace(",", ".")) * 60);

function reading({ aboard, body, id, today }) {
  const machine = meterOf(aboard, aboard.named(body.machine, "machine"));
  const minutes = minutesOf(body.hours);
  const on = body.at ?? today;
  if (!machine || !Number.isFinite(minutes) || on > today) return null;
  const doubt = doubtOf(aboard, machine.ref, { on, minutes, new_counter: startsAnew(body.because) });
  if (doubt && !body.because) {
    throw new SparesError("ask-first", doubt, { asks: doubt, errors: [{ pointer: "#/hours", detail: doubt }] });
  }
  return [{ id, kind: "reading", body: { machine: machine.ref, minutes, date: on,
    ...(body.because ? { because: body.because } : {}), ...(doubt ? { doubt } : {}) } }];
}

/** Say which pieces of which lot a kit takes; a proven stand-in where the part itself is out. */
function kitLines(aboard, service, today) {
  const lines = [];
  const taken = new Map();
  for (const line of aboard.all("kit-line").filter((one) => one.service === service)) {
    let wanted = line.q ?? 0;
    const standIns = aboard.all("stand-in").filter((one) => one.for_part === line.part
      && one.proof && !["hearsay", "candidate", "tried-no"].includes(one.proof));
    for (const part of [line.part, ...standIns.map((one) => one.part)]) {
      const there = aboard.cellsOf(part).filter((cell) => isUsable(aboard, cell, today));
      for (const { locker, lot, quantity } of useFirst(aboard, there, today)) {
        const key = [part, locker, lot].join();
        const q = Math.min(wanted, quantity - (taken.get(key) ?? 0));
        if (q > 0) {
          taken.set(key, (taken.get(key) ?? 0) + q);
          lines.push({ part, locker, lot, q });
          wanted -= q;
        }
      }
    }
  }
  return lines;
}

/** Refuse a figure that the hour meter cannot have shown: it would spoil every plan. */
function checkHours(aboard, machine, date, minutes) {
  const meter = machine ? meterOf(aboard, aboard.get(machine)) : null;
  const on = `${date}-01-01`.slice(0, 10);
  const doubt = meter && doubtOf(aboard, meter.ref, { on, minutes });
  if (doubt) {
    throw new SparesError("invalid-input", doubt, { errors: [{ pointer: "#/hours", detail: doubt }] });
  }
}

function done({ aboard, body, id, today }) {
  const service = aboard.named(body.service, "service");
  const date = body.at ?? today;
  if (!service || `${date}-01-01`.slice(0, 10) > today) return null;
  const given = { by: body.by, proof: body.proof, note: body.note, machine: service.machine };
  if (body.failed?.length) {
    const parts = body.failed.map((part) => aboard.named(part, "part"));
    if (parts.some((part) => !part)) return null;
    given.failed = parts.map((part) => part.ref);
  }
  if (body.hours !== undefined && body.hours !== null) {
    given.minutes = minutesOf(body.hours);
    checkHours(aboard, service.machine, date, given.minutes);
  }
  const kept = Object.fromEntries(Object.entries(given).filter(([, one]) => one !== undefined && one !== null));
  const lines = body.kit === false ? [] : kitLines(aboard, service.ref, today);
  return [{ id, kind: "service", body: { service: service.ref, date, ...kept, lines } }];
}

/** What a photo can be of. */
const SUBJECTS = ["machine", "part", "locker", "point", "inner"];

function photo({ aboard, body, id }) {
  const things = SUBJECTS.map((kind) => aboard.named(body.of, kind)).filter(Boolean);
  if (things.length !== 1) return null;
  const { sha256, bytes, mime } = body;
  return [{ id, kind: "photo", body: { doc: things[0].ref, sha256, bytes, mime, ...noted(body) } }];
}

function settle({ aboard, body, id }) {
  const parts = aboard.entries().filter((entry) => entry.id === body.change)
    .flatMap((entry) => effects(entry).map((effect) => aboard.keptName(effect.part)));
  const cell = parts.flatMap((part) => aboard.cellsOf(part))
    .find((one) => one.doubts.includes(body.change));
  if (!cell) return null;
  const counts = aboard.live().filter((entry) => entry.kind === "counted"
    && aboard.keptName(entry.body.part) === cell.part && entry.body.locker === cell.locker
    && (entry.body.lot ?? "") === cell.lot);
  const count = counts.reduce((last, entry) => (!last || entry.at > last.at ? entry : last), null);
  return [{ id, kind: "settle", body: { of: body.change, count: count.id, side: body.side } }];
}

function undo({ aboard, body, id }) {
  const named = aboard.live().filter((entry) => entry.id === body.change);
  if (!named.length) return null;
  const batch = named[0].body.batch;
  const act = batch ? aboard.live().filter((entry) => entry.body.batch === batch) : named;
  const happened = act.filter((entry) => VOIDABLE.includes(entry.kind));
  const others = act.filter((entry) => !happened.includes(entry));
  const isBegun = (entry) => entry.kind === "set" && ["lot", "locker"].includes(kindOf(entry.body.doc));
  // What came in a file, or changed a document, is taken back by the boat's computer.
  const isAct = !batch || act.some((entry) => entry.id === batch);
  if (!isAct || !happened.length || !others.every(isBegun)) return null;
  return happened.reverse().map((entry, place) =>
    ({ id: place ? newId() : id, kind: "void", body: { of: entry.id } }));
}

const VERBS = {
  took: oneWay("took"), landed: oneWay("landed"), put, moved, counted, reading, done, photo, settle, undo,
};

/**
 * Put a request of a screen (`do/took`, ...) into changes of this phone.
 * @returns {{id, kind, body}[]|null} null where the boat's computer has to be asked
 */
export function draftsFor(path, body, id, { aboard, today }) {
  const verb = path.startsWith("do/") ? VERBS[path.slice(3)] : undefined;
  return verb ? verb({ aboard, body, id, today }) : null;
}
