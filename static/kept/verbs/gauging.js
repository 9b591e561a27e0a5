/** What is read at a machine beside its hours. Mirrors spares/actions/gauged.py. */

import { InvalidInput } from "../../domain/errors.js";
import { joinedId } from "../../domain/named_id.js";
import { asOneAct, numbered, revived, setting, wholeDay } from "./setting.js";
import { minutesGiven } from "./working.js";

const FIGURE = /^-?\d{1,9}(\.\d{1,6})?$/;

const words = (text) => (text ?? "").trim() || null;
const isGiven = (value) => value !== undefined && value !== null;

/** Read a figure with comma or point as text; null where none is given. */
export function figureText(value, field) {
  if (!isGiven(value) || value === "") return null;
  const text = String(value).trim().replace(",", ".").replace("−", "-");
  if (!FIGURE.test(text)) throw InvalidInput.at(`#/${field}`, "a number is needed");
  return text;
}

export function notToCome(value, today) {
  const on = wholeDay(value, "at", today);
  if (on > today) throw InvalidInput.at("#/at", "this day is still to come");
  return on;
}

/** Give {doc, begun}: the gauge of that name, and the fields that begin a new one. */
function gaugeNamed(aboard, machine, name, unit, field = "") {
  const wanted = (name ?? "").split(/\s+/).filter(Boolean).join(" ");
  const shown = words(unit);
  if (!wanted) throw InvalidInput.at(`#/${field}name`, "say what was read, such as coolant");
  const there = aboard.all("gauge").find((one) => one.machine === machine.ref && (one.name ?? "").toLowerCase() === wanted.toLowerCase());
  if (there) {
    if (shown && there.unit && shown !== there.unit) throw InvalidInput.at(`#/${field}unit`, `this gauge shows ${there.unit}`);
    return { doc: there.ref, begun: {} };
  }
  if (!shown) throw InvalidInput.at(`#/${field}unit`, "say the unit, such as °C");
  const no = `${machine.no} ${wanted.toLowerCase()}`;
  return { doc: numbered(aboard, "gauge", no), begun: { no, name: wanted, machine: machine.ref, unit: shown } };
}

function recordOf(gauge, on, value, service = null, minute = null) {
  const ends = [gauge, on, value, service ?? "", String(minute || "")];
  return { doc: `gauge-reading/${joinedId("gauge-reading", ...ends)}`,
    fields: { gauge, on, value, ...(service ? { service } : {}), ...(minute === null ? {} : { minute }) } };
}

function checkLimits(now) {
  if (now.low && now.high && Number(now.low) > Number(now.high)) throw InvalidInput.at("#/high", "the upper limit is below the lower one");
  if ((now.low || now.high) && !now.source) throw InvalidInput.at("#/source", "say where the limit stands: book and page");
}

/** A gauge and the limits of the maker's book; what is left out stays as it is. */
export function gauge({ aboard, body, id, today }) {
  const machine = aboard.named(body.machine, "machine");
  const service = body.cleaned_by?.trim() ? aboard.named(body.cleaned_by, "service") : null;
  if (!machine || (body.cleaned_by?.trim() && !service)) return null;
  const texts = ["unit", "place", "source", "by", "note"].filter((name) => isGiven(body[name])).map((name) => [name, words(body[name])]);
  const limits = ["low", "high"].filter((name) => isGiven(body[name])).map((name) => [name, figureText(body[name], name)]);
  const { doc, begun } = gaugeNamed(aboard, machine, body.name, body.unit);
  const fields = Object.fromEntries([...texts, ...limits]);
  checkLimits({ ...aboard.get(doc), ...fields });
  if (limits.length) fields.on = wholeDay(body.at, "at", today);
  if (isGiven(body.cleaned_by)) fields.cleaned_by = service?.ref ?? null;
  const whole = { ...begun, ...fields };
  if (!Object.keys(whole).length) throw InvalidInput.at("#/unit", "say what is to be written down of it");
  return [setting(aboard, doc, revived(aboard, doc, whole), id)];
}

/** What a gauge shows; one that nobody wrote down yet is begun. */
export function gauged({ aboard, body, id, today }) {
  const machine = aboard.named(body.machine, "machine");
  if (!machine) return null;
  const value = figureText(body.value, "value");
  if (value === null) throw InvalidInput.at("#/value", "a number is needed");
  const on = notToCome(body.at, today);
  const { doc, begun } = gaugeNamed(aboard, machine, body.name, body.unit);
  const isNew = Object.keys(begun).length > 0;
  if (isNew && words(body.place)) begun.place = words(body.place);
  const record = recordOf(doc, on, value);
  const fields = { ...record.fields, minutes: (body.hours ?? "") === "" ? null : minutesGiven(body.hours, "hours"), rpm: body.rpm ?? null,
    load_percent: body.load_percent ?? null, by: words(body.by), note: words(body.note) };
  return asOneAct([setting(aboard, record.doc, revived(aboard, record.doc, fields), id),
    ...(isNew ? [setting(aboard, doc, revived(aboard, doc, begun))] : [])], id);
}

/** The first run of a machine after work: figures by minute, leaks, who accepted it. */
export function testRun({ aboard, body, id, today }) {
  const machine = aboard.named(body.machine, "machine");
  const service = body.service ? aboard.named(body.service, "service") : null;
  if (!machine || (body.service && !service)) return null;
  const on = notToCome(body.at, today);
  const readings = body.readings ?? [];
  if (!readings.length && !words(body.leaks) && !words(body.accepted_by)) {
    throw InvalidInput.at("#/readings", "say what was read, seen or accepted");
  }
  const job = service?.ref ?? null;
  const drafts = [];
  const begunHere = new Set();
  readings.forEach((one, place) => {
    const value = figureText(one.value, `readings/${place}/value`);
    if (value === null) throw InvalidInput.at(`#/readings/${place}/value`, "a number is needed");
    const { doc, begun } = gaugeNamed(aboard, machine, one.name, one.unit, `readings/${place}/`);
    if (Object.keys(begun).length && !begunHere.has(doc)) {
      begunHere.add(doc);
      drafts.push(setting(aboard, doc, revived(aboard, doc, begun)));
    }
    const record = recordOf(doc, on, value, job, one.minute ?? null);
    drafts.push(setting(aboard, record.doc, revived(aboard, record.doc, { ...record.fields, by: words(body.by) })));
  });
  const doc = `test-run/${joinedId("test-run", machine.ref, on, job ?? "")}`;
  const fields = { machine: machine.ref, service: job, on, leaks: words(body.leaks), accepted_by: words(body.accepted_by),
    by: words(body.by), note: words(body.note) };
  return asOneAct([setting(aboard, doc, revived(aboard, doc, fields), id), ...drafts], id);
}
