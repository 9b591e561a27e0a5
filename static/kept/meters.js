/** Hour counters by this phone's copy: whose counter a machine goes by, and what it shows. */

import { readingDoubt, shownOn, trusted, withNoted } from "../domain/meter.js";
import { liveOf } from "./live.js";

/** Give the machine whose counter a machine goes by, or null. */
export function meterOf(aboard, machine) {
  const seen = new Set();
  let one = machine;
  while (one && !seen.has(one.ref)) {
    seen.add(one.ref);
    if (!one.counter || one.counter === "own") return one;
    one = one.counter === "none" || !one.counter_of ? null : aboard.get(one.counter_of);
  }
  return null;
}

/** Say whether a reading begins a new counter. */
export const startsAnew = (because) => (because ?? "").trim().toLowerCase().startsWith("new counter");

/** Say whether a reading stands in the place of the one before it. */
export const correctsLast = (because) => /^(the )?last entry was a slip/i.test((because ?? "").trim());

const earliest = (date) => `${date}-01-01`.slice(0, 10);

function historyOf(aboard, machine) {
  return liveOf(aboard, "reading").filter(({ body }) => body.machine === machine && body.minutes !== undefined).map(({ body }) => ({
    on: earliest(body.date), minutes: body.minutes, new_counter: startsAnew(body.because),
    doubt: startsAnew(body.because) ? null : body.doubt ?? null, corrects: correctsLast(body.because) }));
}

/** Give what services noted on a counter: day and minutes. */
function notedHours(aboard, machine) {
  return liveOf(aboard, "service").filter(({ body }) => body.minutes !== undefined && body.date
    && meterOf(aboard, aboard.get(body.machine ?? aboard.get(body.service)?.machine))?.ref === machine)
    .map(({ body }) => ({ on: earliest(body.date), minutes: body.minutes }));
}

/** Give the code of why a reading would be asked about, or null if it can stand. */
export const doubtOf = (aboard, machine, reading) => readingDoubt(
  withNoted(historyOf(aboard, machine), notedHours(aboard, machine)), reading);

/** Give what each machine's counter shows [h], by the machine's number: as read, or as work was done at since. */
export function shownNow(aboard) {
  const found = new Map();
  const served = liveOf(aboard, "service").filter(({ body }) => body.minutes !== undefined && body.service);
  const machines = aboard.all("machine");
  const own = new Map(machines.map((machine) => [machine.ref, meterOf(aboard, machine)?.ref]));
  for (const owner of new Set(own.values())) {
    const last = owner && trusted(historyOf(aboard, owner)).at(-1);
    if (!last) continue;
    const later = served.filter(({ body }) => own.get(aboard.get(body.service)?.machine) === owner
      && earliest(body.date) >= last.on).map(({ body }) => body.minutes);
    const minutes = Math.max(last.minutes, ...later);
    for (const machine of machines) if (own.get(machine.ref) === owner) found.set(machine.no, minutes / 60);
  }
  return found;
}

/** Give the last reading of a machine's own counter that can be trusted, {on, minutes}, or null. */
export const lastRead = (aboard, machine) => trusted(historyOf(aboard, machine)).at(-1) ?? null;

/** Give what the counter that a machine goes by showed on a day [min], or null. */
export function shownThen(aboard, machine, date) {
  const meter = machine ? meterOf(aboard, aboard.get(machine)) : null;
  return meter ? shownOn(historyOf(aboard, meter.ref), earliest(date)) : null;
}
