/** How often a service comes round, and why. Mirrors spares/actions/interval.py. */

import { InvalidInput } from "../../domain/errors.js";
import { setting, wholeDay } from "./setting.js";
import { minutesGiven } from "./working.js";

const FIELDS = ["every_minutes", "every_months", "not_wanted"];
const MOST_WORDS = 300;
const MOST_MONTHS = 1200;
const MOST_TEXT = 4000;
const [NOT_WANTED, NONE] = ["×", "–"];
const FIGURES = `(?:${NOT_WANTED}|${NONE}|[\\d.]+ h(?: / \\d+ mo)?|\\d+ mo)`;
/** A line that was written here; those before it had words for figures. */
const OWN = new RegExp(`^\\d{4}-\\d\\d-\\d\\d: (?:${FIGURES} -> ${FIGURES}: |`
  + "[^,>]*(?: h|months|here|interval) -> [^,>]*(?: h|months|here|interval), )");

const was = (service, field) => (field === "not_wanted" ? Boolean(service[field]) : service[field] || null);
const lengthOf = (text) => [...text].length;

/** Give minutes as hours with one decimal at most, half a tenth rounded up. */
const hoursText = (minutes) => String(Math.floor((minutes * 10 + 30) / 60) / 10);

/** Say an interval in figures that need no language, such as `300 h / 12 mo`. */
function told(service, fields) {
  const now = Object.fromEntries(FIELDS.map((field) => [field, field in fields ? fields[field] : was(service, field)]));
  if (now.not_wanted) return NOT_WANTED;
  return [now.every_minutes && `${hoursText(now.every_minutes)} h`, now.every_months && `${now.every_months} mo`]
    .filter(Boolean).join(" / ") || NONE;
}

function monthsGiven(value) {
  if (!Number.isInteger(value) || value < 0 || value > MOST_MONTHS) {
    throw InvalidInput.at("#/every_months", "whole months from 0 to 1200 are needed");
  }
  return value;
}

/** Put a reason below a note; the oldest reasons make room for it. */
function noted(note, said) {
  const lines = [...(note ? note.split("\n") : []), said];
  while (lengthOf(lines.join("\n")) > MOST_TEXT) {
    const oldest = lines.slice(0, -1).findIndex((line) => OWN.test(line));
    if (oldest < 0) throw InvalidInput.at("#/because", "the note of this service has no room for it");
    lines.splice(oldest, 1);
  }
  return lines.join("\n");
}

function given({ every_hours = null, every_months = null, not_wanted = null }) {
  return { ...(every_hours === null ? {} : { every_minutes: minutesGiven(every_hours, "every_hours") || null }),
    ...(every_months === null ? {} : { every_months: monthsGiven(every_months) || null }),
    ...(not_wanted === null ? {} : { not_wanted: Boolean(not_wanted) }) };
}

/** A service comes round sooner or later than before, or is not wanted here. */
export function interval({ aboard, body, id, today }) {
  const service = aboard.named(body.service, "service");
  if (!service) return null;
  const why = (body.because ?? "").trim();
  if (!why || lengthOf(why) > MOST_WORDS) throw InvalidInput.at("#/because", "say why, in at most 300 characters");
  const fields = Object.fromEntries(Object.entries(given(body)).filter(([field, value]) => value !== was(service, field)));
  if (!Object.keys(fields).length) throw InvalidInput.at("#/every_hours", "it is so already");
  const said = `${wholeDay(body.at, "at", today)}: ${told(service, {})} -> ${told(service, fields)}: ${why}`;
  return [setting(aboard, service.ref, { ...fields, note: noted(service.note, said) }, id)];
}
