/** The limits of a gauge as the maker's book has them: who entered them, and where they stand. */

import { useDraft, useLoad } from "../load.js";
import { parseNumber, showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { ChoiceField, FaultSummary, NumberField, Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded, Problem } from "../pieces/problem.js";
import { href } from "../routes.js";
import { go, route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { GAUGE, SAY } from "../words.js";

const text = (value) => String(value ?? "");

/** Put the change together; an empty limit takes it out. */
export function readLimits(gauge, values) {
  const faults = {};
  const body = { machine: gauge.machine, name: gauge.name, cleaned_by: values.cleaned_by };
  for (const name of ["low", "high"]) {
    const { value, problem } = parseNumber(values[name].replace("−", "-"));
    if (problem && problem !== "empty") faults[name] = problem;
    else body[name] = problem ? "" : value;
  }
  for (const name of ["source", "by", "place"]) body[name] = values[name].trim();
  if ((body.low !== "" || body.high !== "") && !body.source) faults.source = "empty";
  return { faults, body };
}

/** What stands in the form at first. */
const valuesOf = (gauge) => Object.fromEntries([...["low", "high"].map((name) => [name, (gauge[name] ?? null) === null ? "" : showNumber(gauge[name])]),
  ...["source", "by", "place", "cleaned_by"].map((name) => [name, text(gauge[name])])]);

/** Of what was touched only what differs from now: what somebody corrected meanwhile is not written over. */
export function changedLimits(gauge, touched) {
  const { faults, body } = readLimits(gauge, { ...valuesOf(gauge), ...touched });
  const was = readLimits(gauge, valuesOf(gauge)).body;
  const { machine, name, ...fields } = body;
  return { faults, body: { machine, name, ...Object.fromEntries(Object.entries(fields).filter(([key, value]) => value !== was[key])) } };
}

function Form({ gauge, services }) {
  const draft = useDraft(`limits-of.${gauge.gauge}`, {});       // only what was touched: the rest is as recorded now
  const values = { ...valuesOf(gauge), ...draft.values };
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = changedLimits(gauge, draft.values);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const to = ["aboard", "machines", gauge.machine];
    if (Object.keys(body).length === 2) { draft.clear(); go(to); return; }      // nothing differs
    const done = await record("do/gauge", body, GAUGE.limits_text(gauge.machine, gauge.name), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state === "refused") return;
    draft.clear();
    go(to);
  };
  const field = (name) => ({ name, value: values[name], fault: state.faults[name], onValue: (typed) => draft.set({ [name]: typed }) });
  const choices = [["", GAUGE.no_service], ...services.filter((one) => one.machine === gauge.machine)
    .map((one) => [one.no, `${one.no} ${one.what}`])];
  return html`<form class="stack" onSubmit=${submit} data-form="limits"><p class="strong">${GAUGE.caution}</p>
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${NumberField} label=${GAUGE.low} unit=${gauge.unit} ...${field("low")} />
    <${NumberField} label=${GAUGE.high} unit=${gauge.unit} ...${field("high")} />
    <${TextField} label=${GAUGE.source} hint=${GAUGE.source_hint} ...${field("source")} />
    <${TextField} label=${GAUGE.limits_by} ...${field("by")} /><${TextField} label=${GAUGE.place} ...${field("place")} />
    <${ChoiceField} label=${GAUGE.cleaned_by} options=${choices} ...${field("cleaned_by")} />
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : GAUGE.limits_record}</button></form>`;
}

/** The limits of one gauge of a machine. */
export function GaugeLimitsView() {
  const { machine } = route.value.params;
  const load = useLoad(`machines/${encodeURIComponent(machine)}`);
  const services = useLoad("services");
  const gauge = load.data?.gauges?.find((one) => one.name === route.value.query.name);
  return html`<${Page} title=${GAUGE.limits_title} sub=${gauge?.gauge} back=${[href(["aboard", "machines", machine]), load.data?.name ?? machine]}>
    <${Loaded} load=${load}>${() => (gauge ? html`<${Form} gauge=${gauge} services=${services.data?.services ?? []} />`
    : html`<${Empty} text=${GAUGE.none} button=${GAUGE.record_button} href=${href(["work", "gauge", machine])} />`)}<//>
  <//>`;
}
