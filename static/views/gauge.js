/** One reading other than hours: what, figure and unit, with hours, load and speed where they are known. */

import { joinDay, splitDay } from "../dates.js";
import { useDraft, useLoad } from "../load.js";
import { parseFigure, parseNumber, showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { ChoiceField, DayField, FaultSummary, NoteField, NumberField, Restored, TextField } from "../pieces/fields.js";
import { trendText } from "../pieces/gauges.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { today } from "../pieces/today.js";
import { href } from "../routes.js";
import { go, route, summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { GAUGE, SAY } from "../words.js";

export const FIRST = { name: "", other: "", unit: "°C", other_unit: "", value: "", hours: "", load: "", rpm: "", place: "", by: "",
  note: "", at: null };

/** Put the change together; faults name their field. `known` is the gauge that was chosen, if it is there. */
export function readGauge(machine, values, known) {
  const faults = {};
  const name = (known?.name ?? values.other).trim();
  if (!name) faults.other = "empty";
  const body = { machine, name };
  const figure = (field, key, { needed = false, whole = false } = {}) => {
    const { value, problem } = (field === "value" ? parseNumber : parseFigure)(values[field].replace("−", "-"));
    if (problem === "empty" && !needed) return;
    if (problem || (whole && !Number.isInteger(value))) faults[field] = problem ?? "not-whole";
    else if (field !== "value" && value < 0) faults[field] = "too-small";
    else body[key] = value;
  };
  figure("value", "value", { needed: true });
  figure("hours", "hours");
  figure("load", "load_percent", { whole: true });
  figure("rpm", "rpm", { whole: true });
  const unit = known?.unit ?? (values.unit || values.other_unit.trim());
  if (!unit) faults.other_unit = "empty";
  else body.unit = unit;
  const day = joinDay(values.at);
  if (day.problem) faults.at = day.problem;
  else body.at = day.value;
  for (const field of ["place", "by", "note"]) if (values[field].trim()) body[field] = values[field].trim();
  return { faults, body };
}

function Form({ machine }) {
  const asked = route.value.query.name ?? "";
  const draft = useDraft(`gauge.${machine.no}.${asked}`, { ...FIRST, name: asked });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const values = { ...draft.values, at: draft.values.at ?? splitDay(today(summary.value)) };
  const known = machine.gauges.find((one) => one.name === values.name);
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readGauge(machine.no, values, known);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const text = GAUGE.text(machine.no, body.name, [showNumber(body.value), body.unit].join(" "));
    const done = await record("do/gauged", body, text, { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state === "refused") return;
    draft.clear();
    go(["aboard", "machines", machine.no]);
  };
  const field = (name) => ({ name, value: values[name], fault: state.faults[name], onValue: (typed) => draft.set({ [name]: typed }) });
  const names = [...machine.gauges.map((one) => [one.name, one.name]), ["", GAUGE.another]];
  const units = [...GAUGE.units.map((unit) => [unit, unit]), ["", GAUGE.other_unit]];
  return html`<form class="stack" onSubmit=${submit} data-form="gauged">
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    ${names.length > 1 && html`<${ChoiceField} label=${GAUGE.known} options=${names} ...${field("name")} />`}
    ${known ? html`<p>${trendText(known)}</p>` : html`<${TextField} label=${GAUGE.what} hint=${GAUGE.what_hint} ...${field("other")} />
      <${ChoiceField} label=${GAUGE.unit} options=${units} ...${field("unit")} />
      ${!values.unit && html`<${TextField} label=${GAUGE.other_unit} ...${field("other_unit")} />`}`}
    <${NumberField} label=${GAUGE.value} unit=${known?.unit ?? values.unit} ...${field("value")} />
    ${machine.counter !== "none" && html`<${NumberField} label=${GAUGE.hours} unit="h" ...${field("hours")} />`}
    <${NumberField} label=${GAUGE.load} hint=${GAUGE.load_hint} unit="%" ...${field("load")} />
    <${NumberField} label=${GAUGE.rpm} unit=${GAUGE.turns} ...${field("rpm")} />
    <${DayField} label=${GAUGE.on} today=${today(summary.value)} ...${field("at")} />
    ${!known && html`<${TextField} label=${GAUGE.place} ...${field("place")} />`}
    <${TextField} label=${GAUGE.by} ...${field("by")} /><${NoteField} label=${GAUGE.note} ...${field("note")} />
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : GAUGE.record}</button></form>`;
}

/** A reading at one machine. */
export function GaugeView() {
  const { machine } = route.value.params;
  const load = useLoad(`machines/${encodeURIComponent(machine)}`);
  return html`<${Page} title=${GAUGE.record_title} sub=${load.data?.name} back=${[href(["aboard", "machines", machine]), load.data?.name ?? machine]}>
    <${Loaded} load=${load}>${(data) => html`<${Form} machine=${data} />`}<//>
  <//>`;
}
