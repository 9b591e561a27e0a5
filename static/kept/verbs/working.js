/** Work and what was seen: readings, services done, photos, doubts answered. Mirrors these files of spares/actions. */

import { SparesError } from "../../api.js";
import { InvalidInput } from "../../domain/errors.js";
import { effects } from "../../domain/movements.js";
import { countAskedAbout } from "../../domain/stock.js";
import { isUsable, useFirst } from "../aboard.js";
import { ownBagFirst, standInsOf } from "../bags.js";
import { strandedRefs } from "../fitted.js";
import { correctsLast, doubtOf, meterOf, startsAnew } from "../meters.js";

const noted = (body) => (body.note ? { note: body.note } : {});

const MOST_HOURS = 1_000_000;
const HOURS = /^\d+(?:[.,]\d{1,2})?$/;

export const minutesOf = (hours) => Math.round(Number(String(hours).replace(",", ".")) * 60);

/** Read hours as whole minutes; refuse what is none, at once rather than when the change is sent. */
export function minutesGiven(hours, field) {
  const minutes = HOURS.test(String(hours).trim()) ? minutesOf(hours) : null;
  if (minutes === null || minutes > MOST_HOURS * 60) {
    throw InvalidInput.at(`#/${field}`, "hours from 0 to 1 000 000 with at most two decimals are needed");
  }
  return minutes;
}

/** What an hour counter shows. */
export function reading({ aboard, body, id, today }) {
  const machine = meterOf(aboard, aboard.named(body.machine, "machine"));
  const minutes = minutesOf(body.hours);
  const on = body.at ?? today;
  if (!machine || !Number.isFinite(minutes) || on > today) return null;
  const doubt = doubtOf(aboard, machine.ref, { on, minutes,
    new_counter: startsAnew(body.because), corrects: correctsLast(body.because) });
  if (doubt && !body.because) {
    throw new SparesError("ask-first", doubt, { asks: doubt, errors: [{ pointer: "#/hours", detail: doubt }] });
  }
  return [{ id, kind: "reading", body: { machine: machine.ref, minutes, date: on,
    ...(body.because ? { because: body.because } : {}), ...(doubt ? { doubt } : {}) } }];
}

/** Say which pieces of which lot a kit takes; a proven stand-in where the part itself is out. */
export function kitLines(aboard, service, today) {
  const lines = [];
  const taken = new Map();
  const stranded = strandedRefs(aboard);
  for (const line of aboard.all("kit-line").filter((one) => one.service === service)) {
    let wanted = line.q ?? 0;
    for (const part of [line.part, ...standInsOf(aboard, line.part)]) {
      const there = stranded.has(part) ? [] : aboard.cellsOf(part).filter((cell) => isUsable(aboard, cell, today));
      for (const { locker, lot, quantity } of ownBagFirst(aboard, service, useFirst(aboard, there, today))) {
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
export function checkHours(aboard, machine, date, minutes) {
  const meter = machine ? meterOf(aboard, aboard.get(machine)) : null;
  const on = `${date}-01-01`.slice(0, 10);
  const doubt = meter && doubtOf(aboard, meter.ref, { on, minutes });
  if (doubt) {
    throw new SparesError("invalid-input", doubt, { errors: [{ pointer: "#/hours", detail: doubt }] });
  }
}

/** A service was carried out. */
export function done({ aboard, body, id, today }) {
  const service = aboard.named(body.service, "service");
  const date = body.at ?? today;
  if (!service || `${date}-01-01`.slice(0, 10) > today) return null;
  const given = { by: body.by, proof: body.proof, note: body.note, machine: service.machine };
  if (body.failed?.length) {
    const parts = body.failed.map((part) => aboard.named(part, "part"));
    if (parts.some((part) => !part)) return null;
    given.failed = parts.map((part) => part.ref);
  }
  if ((body.hours ?? "") !== "") {
    given.minutes = minutesGiven(body.hours, "hours");
    checkHours(aboard, service.machine, date, given.minutes);
  }
  const kept = Object.fromEntries(Object.entries(given).filter(([, one]) => one !== undefined && one !== null));
  const lines = body.kit === false ? [] : kitLines(aboard, service.ref, today);
  return [{ id, kind: "service", body: { service: service.ref, date, ...kept, lines } }];
}

/** What a photo can be of. */
const SUBJECTS = ["machine", "part", "locker", "point", "inner", "drain-point", "joint"];

/** A picture was taken of a thing. */
export function photo({ aboard, body, id }) {
  const things = SUBJECTS.map((kind) => aboard.named(body.of, kind)).filter(Boolean);
  if (things.length !== 1) return null;
  const { sha256, bytes, mime } = body;
  return [{ id, kind: "photo", body: { doc: things[0].ref, sha256, bytes, mime, ...noted(body) } }];
}

/** Say on which side of a count a movement lies. */
export function settle({ aboard, body, id }) {
  const asked = ["part", "locker", "lot"].filter((kind) => (body[kind] ?? null) !== null)
    .map((kind) => [kind, aboard.named(body[kind], kind)?.ref]);
  if (asked.some(([, ref]) => !ref)) return null;
  const nameOf = (ref) => (ref.startsWith("part/") ? aboard.keptName(ref) : ref);
  const parts = aboard.entries().filter((entry) => entry.id === body.change)
    .flatMap((entry) => effects(entry).map((effect) => aboard.keptName(effect.part)));
  const cells = [...new Set(parts)].flatMap((part) => aboard.cellsOf(part))
    .filter((one) => one.doubts.includes(body.change) && asked.every(([kind, ref]) => one[kind] === nameOf(ref)));
  const plain = cells.filter((one) => !one.lot);
  // What was moved can be in doubt at both ends: the answer is about one of the two counts.
  const [cell, another] = cells.length > 1 && plain.length ? plain : cells;
  const count = cell && !another && countAskedAbout(aboard.entries(), cell, body.change);
  if (!count) return null;
  return [{ id, kind: "settle", body: { of: body.change, count, side: body.side } }];
}
