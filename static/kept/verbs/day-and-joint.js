/** The day's run of a machine that charges, and the torque used at a joint. Mirrors daily_run.py and tightened.py of spares/actions. */

import { InvalidInput } from "../../domain/errors.js";
import { joinedId } from "../../domain/named_id.js";
import { figureText, notToCome } from "./gauging.js";
import { revived, setting, wholeDay } from "./setting.js";
import { minutesGiven } from "./working.js";

const MOST_MIN = 24 * 60;
const trimmed = (text) => (text ?? "").trim() || null;
const minutesIn = (value, field) => ((value ?? "") === "" ? null : minutesGiven(value, field));

function amount(value, field) {
  const found = figureText(value, field);
  if (found?.startsWith("-")) throw InvalidInput.at(`#/${field}`, "must be 0 or more");
  return found;
}

/** One day of a machine; the same day again stands in its place. */
export function dailyRun({ aboard, body, id, today }) {
  const machine = aboard.named(body.machine, "machine");
  const trip = body.trip ? aboard.named(body.trip, "trip") : null;
  if (!machine || (body.trip && !trip)) return null;
  const on = notToCome(body.at, today);
  const minutes = minutesIn(body.hours, "hours");
  if (minutes !== null && minutes > MOST_MIN) throw InvalidInput.at("#/hours", "a day has 24 hours");
  const told = Object.fromEntries(["litres", "charge_ah", "amps"].map((name) => [name, amount(body[name], name)]));
  if (minutes === null && !Object.values(told).some(Boolean)) throw InvalidInput.at("#/hours", "say hours, litres, charge or amps");
  const doc = `daily-run/${joinedId("daily-run", machine.ref, on)}`;
  return [setting(aboard, doc, revived(aboard, doc, { machine: machine.ref, on, minutes, ...told, trip: trip?.ref ?? null,
    by: trimmed(body.by), note: trimmed(body.note) }), id)];
}

/** Somebody looked at a job; an adult confirms it. Mirrors spares/actions/lessons.py. */
export function lesson({ aboard, body, id, today }) {
  const service = aboard.named(body.service, "service");
  if (!service) return null;
  const [learner, adult] = [trimmed(body.learner), trimmed(body.confirmed_by)];
  if (!learner) throw InvalidInput.at("#/learner", "say who learned");
  if (adult && adult.toLowerCase() === learner.toLowerCase()) throw InvalidInput.at("#/confirmed_by", "somebody else confirms it");
  const on = notToCome(body.at, today);
  const doc = `lesson/${joinedId("lesson", service.ref, learner, on)}`;
  return [setting(aboard, doc, revived(aboard, doc, { service: service.ref, learner, on, seen: trimmed(body.seen), confirmed_by: adult,
    note: trimmed(body.note) }), id)];
}

/** A joint was tightened; the newest record says when it is due again. */
export function tightened({ aboard, body, id, today }) {
  const joint = aboard.named(body.joint, "joint");
  if (!joint) return null;
  const used = trimmed(body.torque_used);
  if (!used) throw InvalidInput.at("#/torque_used", "say the torque with its unit, such as 45 N·m");
  const on = notToCome(body.at, today);
  const later = body.again_on ? wholeDay(body.again_on, "again_on", null) : null;
  if (later !== null && later <= on) throw InvalidInput.at("#/again_on", "a day after it is needed");
  const doc = `joint-record/${joinedId("joint-record", joint.ref, on)}`;
  return [setting(aboard, doc, revived(aboard, doc, { joint: joint.ref, on, torque_used: used, again_on: later,
    again_at_minutes: minutesIn(body.again_at, "again_at"), by: trimmed(body.by), note: trimmed(body.note) }), id)];
}
