/** Gauges and test runs of a machine by this phone's copy. Mirrors spares/actions/gauges.py. */

import { courseOf, gaugeState, inOrder, speaking } from "../domain/gauges.js";
import { idOf } from "./log-index.js";

const SHOWN = 12;

const known = (value) => (value === undefined || value === "" ? null : value);
const figure = (text) => (known(text) === null ? null : Number(text));
const noOf = (aboard, name) => (name ? aboard.get(name)?.no ?? "something not recorded" : null);
const tenth = (minutes) => (minutes === null ? null : Math.floor((minutes * 10 + 30) / 60) / 10);

function shownOf(record) {
  return { on: record.on, value: Number(record.value), minutes: known(record.minutes), rpm: known(record.rpm),
    load_percent: known(record.load_percent), minute: known(record.minute), of: known(record.service) };
}

const readingOf = (aboard, { minutes, of, on, value, rpm, load_percent, minute }) =>
  ({ on, value, hours: tenth(minutes), rpm, load_percent, minute, service: noOf(aboard, of) });

function lastDone(aboard, service) {
  const days = aboard.live().filter(({ kind, body }) => kind === "service" && service && body.service === service && body.date)
    .map(({ body }) => `${body.date}-01-01`.slice(0, 10));
  return days.sort().at(-1) ?? null;
}

function gaugeOf(aboard, one, records) {
  const [low, high] = [figure(one.low), figure(one.high)];
  const shown = inOrder(records.map(shownOf));
  const cleaned = lastDone(aboard, one.cleaned_by);
  const service = one.cleaned_by ? aboard.get(one.cleaned_by) : null;
  const { now, left, code, slope, step, step_unit, readings, agreeing, pairs } = courseOf(
    speaking(shown, cleaned, one.cleaned_by), low, high);
  const last = shown.at(-1);
  return { gauge: known(one.no), id: idOf(one.ref), machine: noOf(aboard, one.machine), name: known(one.name),
    unit: known(one.unit), place: known(one.place), low, high, source: known(one.source), by: known(one.by),
    on: known(one.on), note: known(one.note), cleaned_by: service?.no ?? null,
    state: gaugeState(last?.value, low, high), last: last ? readingOf(aboard, last) : null,
    readings: shown.slice(-SHOWN).reverse().map((other) => readingOf(aboard, other)),
    since: cleaned && service ? { on: cleaned, what: service.what } : null,
    trend: { code, slope, step, step_unit, readings, agreeing, pairs, now, left } };
}

/** Describe the gauges of a machine, by name. */
export function gaugesOf(aboard, machine) {
  const records = aboard.all("gauge-reading").sort((one, other) => (one.ref < other.ref ? -1 : 1));
  const named = (one) => (one.name ?? "").toLowerCase();
  return aboard.all("gauge").filter((one) => one.machine === machine)
    .sort((one, other) => (named(one) < named(other) ? -1 : 1))
    .map((one) => gaugeOf(aboard, one, records.filter((record) => record.gauge === one.ref)));
}

function ofRun(aboard, run) {
  return aboard.all("gauge-reading").filter((one) => known(one.minute) !== null && one.on === run.on
    && known(one.service) === known(run.service) && aboard.get(one.gauge)?.machine === run.machine)
    .map((one) => ({ name: aboard.get(one.gauge).name, unit: known(aboard.get(one.gauge).unit), minute: one.minute,
      value: Number(one.value) }))
    .sort((one, other) => one.minute - other.minute || (one.name < other.name ? -1 : 1));
}

/** Describe what was seen and accepted at the test runs of a machine, newest first. */
export function testRunsOf(aboard, machine) {
  return aboard.all("test-run").filter((one) => one.machine === machine)
    .sort((one, other) => (`${one.on} ${one.ref}` > `${other.on} ${other.ref}` ? -1 : 1))
    .map((one) => ({ machine: noOf(aboard, one.machine), on: one.on, service: noOf(aboard, one.service),
      leaks: known(one.leaks), accepted_by: known(one.accepted_by), by: known(one.by), note: known(one.note),
      readings: ofRun(aboard, one) }));
}
