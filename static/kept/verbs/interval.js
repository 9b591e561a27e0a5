/** How often a service comes round, and why. Mirrors spares/actions/interval.py. */

import { InvalidInput } from "../../domain/errors.js";
import { setting, wholeDay } from "./setting.js";
import { minutesOf } from "./working.js";

const FIELDS = ["every_minutes", "every_months", "not_wanted"];
const MOST_WORDS = 300;
const MINUTES = 60;

const was = (service, field) => (field === "not_wanted" ? Boolean(service[field]) : service[field] || null);

function told(service, fields) {
  const now = Object.fromEntries(FIELDS.map((field) => [field, field in fields ? fields[field] : was(service, field)]));
  if (now.not_wanted) return "not wanted here";
  const hours = Number((now.every_minutes / MINUTES).toPrecision(6));
  return [now.every_minutes && `${hours} h`, now.every_months && `${now.every_months} months`].filter(Boolean).join(" or ")
    || "no interval";
}

/** A service comes round sooner or later than before, or is not wanted here. */
export function interval({ aboard, body, id, today }) {
  const service = aboard.named(body.service, "service");
  if (!service) return null;
  const why = (body.because ?? "").trim();
  if (!why || why.length > MOST_WORDS) throw InvalidInput.at("#/because", "say why, in at most 300 characters");
  const given = { every_minutes: body.every_hours === undefined ? undefined : minutesOf(body.every_hours) || null,
    every_months: body.every_months === undefined ? undefined : body.every_months || null, not_wanted: body.not_wanted };
  const fields = Object.fromEntries(FIELDS.map((field) => [field, given[field]])
    .filter(([field, value]) => value !== undefined && value !== was(service, field)));
  if (!Object.keys(fields).length) throw InvalidInput.at("#/every_hours", "it is so already");
  const said = `${wholeDay(body.at, "at", today)}: ${told(service, {})} -> ${told(service, fields)}, ${why}`;
  return [setting(aboard, service.ref, { ...fields, note: [service.note, said].filter(Boolean).join("\n") }, id)];
}
