/**
 * The walk-round of before with what was found on this phone since. Mirrors the states of
 * spares/domain/walk_round.py; how a fit point is known by sizes and links is left as it was told.
 */

import { isLive } from "./fitted.js";
import { lastRead, meterOf } from "./meters.js";

export const STATES = ["seen", "on-record", "told", "guessed", "open"];
export const ORIGINS = ["seen", "told", "guessed"];
const STEPS = { plate: "read-plate", counter: "read-counter", fit: "measure", history: "first-look" };
const KINDS = { plate: "machine", counter: "machine", fit: "point", history: "service" };
const SAID = { seen: "seen", measured: "seen", photo: "seen", told: "told", yard: "told", guessed: "guessed" };

/** Say how it is known that a service was done: by its proof, else it is on record. */
export const originOf = (proof) => SAID[(proof ?? "").toLowerCase().replaceAll("'", " ").trim().split(/\s+/)[0]] ?? "on-record";

/** Count questions by state. */
export function progressOf(questions) {
  const count = (state) => questions.filter((one) => one.state === state).length;
  return { asked: questions.length, answered: questions.length - count("open"),
    ...Object.fromEntries(STATES.map((state) => [state.replace("-", "_"), count(state)])) };
}

function recordedOf(told, doc, aboard) {
  if (told.question === "plate") return doc.serial ? ["on-record"] : [];
  if (told.question === "counter") {
    const isRead = aboard.live().some(({ kind, body }) => kind === "reading" && body.machine === doc.ref
      && body.minutes !== undefined && !body.doubt);
    return isRead && meterOf(aboard, doc)?.ref === doc.ref ? ["seen"] : [];
  }
  if (told.question === "history") {
    const done = aboard.live().filter(({ kind, body }) => kind === "service" && body.service === doc.ref && body.date);
    return [...new Set(done.map(({ body }) => originOf(body.proof)))].sort();
  }
  return told.recorded;
}

const inHours = (minutes) => `${Math.round(minutes / 6) / 10} h`;

/** What is on record, in words. */
function knownOf(told, doc, aboard) {
  if (told.question === "plate") {
    return [[doc.maker, doc.model].filter(Boolean).join(" "), doc.serial && `serial ${doc.serial}`]
      .filter(Boolean).join(", ") || null;
  }
  if (told.question === "counter") {
    const last = lastRead(aboard, doc.ref);
    return last && `${inHours(last.minutes)} on ${last.on}`;
  }
  if (told.question !== "history") return told.known;
  const done = aboard.live().filter(({ kind, body }) => kind === "service" && body.service === doc.ref && body.date);
  const last = done.reduce((late, one) => (late && late.body.date + late.at > one.body.date + one.at ? late : one), null)?.body;
  return last && (last.minutes === undefined ? last.date : `${last.date} at ${inHours(last.minutes)}`);
}

function questionNow(told, aboard, findings) {
  const doc = aboard.named(told.about, KINDS[told.question]);
  if (!doc) return told;
  if (told.question === "fit" && !isLive(aboard, doc)) return null;      // what it sat in was taken out here
  const own = findings.filter((one) => one.about === doc.ref && one.question === told.question && ORIGINS.includes(one.origin))
    .sort((one, other) => ORIGINS.indexOf(one.origin) - ORIGINS.indexOf(other.origin));
  const recorded = recordedOf(told, doc, aboard);
  const said = own.map((one) => one.origin);
  const states = [...said, ...recorded.filter((one) => !said.length || one !== "on-record")];
  const state = STATES.find((one) => states.includes(one)) ?? "open";
  return { ...told, recorded, known: knownOf(told, doc, aboard) ?? null, state, next_step: ["seen", "on-record"].includes(state) ? null : STEPS[told.question],
    answers: own.map(({ origin, answer = null, by = null, on = null, note = null }) => ({ origin, answer, by, on, note })) };
}

/** Redo a walk-round. */
export function walkRoundNow(round, aboard, today) {
  const findings = aboard.all("finding");
  const machines = round.machines.map((machine) => {
    const questions = machine.questions.map((one) => questionNow(one, aboard, findings)).filter(Boolean);
    return { ...machine, questions, progress: progressOf(questions) };
  });
  return { ...round, today, machines, baseline_on: aboard.get(`vessel/${aboard.vessel()}`)?.baseline_on ?? null,
    progress: progressOf(machines.flatMap((machine) => machine.questions)) };
}
