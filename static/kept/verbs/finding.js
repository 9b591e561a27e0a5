/** What is found on the walk-round, and the baseline. Mirrors spares/actions/found.py. */

import { newId } from "../../api.js";
import { InvalidInput } from "../../domain/errors.js";
import { joinedId } from "../../domain/named_id.js";
import { ORIGINS } from "../walk-round.js";
import { asOneAct, revived, setting, told, wholeDay } from "./setting.js";
import { checkHours, minutesGiven } from "./working.js";

const ABOUT = { plate: "machine", counter: "machine", fit: "point", history: "service" };
const PLATE = ["maker", "model", "serial"];

const trimmed = (text) => (text ?? "").trim() || null;

function notToCome(value, field, today) {
  const on = wholeDay(value, field, today);
  if (on > today) throw InvalidInput.at(`#/${field}`, "this day is still to come");
  return on;
}

/** Put the answer in words; what the further fields say will do. */
function wordsOf(body, plate) {
  const named = [plate.maker, plate.model].filter(Boolean).join(" ");
  const words = [[named, plate.serial && `serial ${plate.serial}`].filter(Boolean).join(", "),
    body.done_on ? `done ${body.done_on}` : "", trimmed(body.answer)].filter(Boolean);
  if (!words.length) throw InvalidInput.at("#/answer", "say what was found");
  return words.join("; ");
}

/** The carrying-out that was seen or told of; no kit is taken for it. */
function serviceOf(aboard, service, { origin, done_on, hours, by }, today) {
  if (`${done_on}-01-01`.slice(0, 10) > today) throw InvalidInput.at("#/done_on", "this day is still to come");
  const minutes = (hours ?? "") === "" ? null : minutesGiven(hours, "hours");
  if (minutes !== null) checkHours(aboard, service.machine, done_on, minutes);
  return { id: newId(), kind: "service", body: { ...told({ service: service.ref, machine: service.machine, date: done_on,
    minutes, proof: origin, by: trimmed(by) }), lines: [] } };
}

/** One answer of the walk-round. */
export function found({ aboard, body, id, today, role }) {
  const { question, origin } = body;
  const about = ABOUT[question] && ORIGINS.includes(origin) ? aboard.named(body.about, ABOUT[question]) : null;
  if (!about) return null;
  const plate = told(Object.fromEntries(PLATE.map((name) => [name, trimmed(body[name])])));
  const misplaced = (question !== "plate" && Object.keys(plate)[0]) || (question !== "history" && body.done_on && "done_on")
    || (!body.done_on && (body.hours ?? "") !== "" && "done_on");
  if (misplaced) throw InvalidInput.at(`#/${misplaced}`, "does not belong to this question");
  const doc = `finding/${joinedId("finding", about.ref, question, origin)}`;
  // What a crew member read stays an answer; the machine's record is the skipper's.
  const more = [...(Object.keys(plate).length && role === "skipper" ? [setting(aboard, about.ref, plate)] : []),
    ...(body.done_on ? [serviceOf(aboard, about, body, today)] : [])];
  const fields = { about: about.ref, question, origin, answer: wordsOf(body, plate), by: trimmed(body.by),
    on: notToCome(body.at, "at", today), note: trimmed(body.note) };
  return asOneAct([setting(aboard, doc, revived(aboard, doc, fields), id), ...more], id);
}

/** The day from which is counted what nobody can date. */
export function baseline({ aboard, body, id, today }) {
  const on = body.taken_back ? null : notToCome(body.at, "at", today);
  return [setting(aboard, `vessel/${aboard.vessel()}`, { baseline_on: on }, id)];
}
