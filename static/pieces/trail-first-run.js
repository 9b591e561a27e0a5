/** What the first run afterwards showed: flow of the outlet water, temperature. */

import { showDay } from "../dates.js";
import { isCrew } from "../kept/kept.js";
import { useDraft } from "../load.js";
import { parseNumber, showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { SAY, TRAIL } from "../words.js";
import { FaultSummary, NumberField, Restored, TextField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { today } from "./today.js";

/** Put the change together; one of the two has to be said. */
export function readFirstRun(trail, values, at) {
  const faults = {};
  const temperature = parseNumber(values.temperature_c);
  if (temperature.problem && temperature.problem !== "empty") faults.temperature_c = temperature.problem;
  if (temperature.problem === "empty" && !values.flow.trim()) faults.flow = "empty";
  return { faults, body: { trail, at, ...(values.flow.trim() && { flow: values.flow.trim() }),
    ...(temperature.value !== null && { temperature_c: temperature.value }), ...(values.by.trim() && { by: values.by.trim() }) } };
}

function ranText({ flow, temperature_c, by, on }) {
  const temperature = temperature_c === undefined ? null : `${showNumber(temperature_c, { decimals: 1 })} °C`;
  return TRAIL.ran(flow, temperature, by, showDay(on));
}

/** @param {{trail: object}} props */
export function TrailFirstRun({ trail }) {
  const draft = useDraft(`trail-first-run.${trail.no}`, { flow: "", temperature_c: "", by: "" });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readFirstRun(trail.no, draft.values, today(summary.value));
    setState({ faults, error: null, sending: !Object.keys(faults).length });
    if (Object.keys(faults).length) return;
    const done = await record("do/trail-first-run", body, TRAIL.run_text(trail.no), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state !== "refused") draft.clear();
  };
  const field = (name) => ({ value: draft.values[name], name: `run-${name}`, fault: state.faults[name],
    onValue: (typed) => draft.set({ [name]: typed }) });
  return html`<section data-piece="trail-first-run"><h3>${TRAIL.run_title}</h3>
    ${trail.first_run && html`<p class="strong">${ranText(trail.first_run)}</p>`}
    ${!trail.do_not_run && isCrew() && html`<form class="stack" onSubmit=${submit} data-form="trail-first-run">
      <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
      <${TextField} label=${TRAIL.flow} hint=${TRAIL.flow_hint} ...${field("flow")} />
      <${NumberField} label=${TRAIL.temperature} unit="°C" ...${field("temperature_c")} />
      <${TextField} label=${TRAIL.by} ...${field("by")} />
      <${Problem} error=${state.error} /><button disabled=${state.sending}>${state.sending ? SAY.recording : TRAIL.run_save}</button></form>`}</section>`;
}
