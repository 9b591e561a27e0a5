/** How often a service comes round from now on, or that it is not wanted here; with the reason. */

import { useDraft } from "../load.js";
import { parseNumber, showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { INTERVAL, SAY } from "../words.js";
import { FaultSummary, NumberField, Restored, TextField, TickField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { serviceNo } from "./service-line.js";

/** Put the change together: only what differs from now; faults name their field. */
export function readInterval(service, values) {
  const faults = {};
  const body = { service: serviceNo(service), because: values.because.trim() };
  for (const [field, whole] of [["every_hours", false], ["every_months", true]]) {
    const typed = values[field].trim() ? parseNumber(values[field]) : { value: 0 };
    if (typed.problem || (whole && !Number.isInteger(typed.value))) faults[field] = typed.problem ?? "not-whole";
    else if (typed.value !== (service[field] ?? 0)) body[field] = typed.value;
  }
  if (values.not_wanted !== Boolean(service.not_wanted)) body.not_wanted = values.not_wanted;
  if (!body.because) faults.because = "empty";
  return { faults, body };
}

/** @param {{service: object}} props with `every_hours`, `every_months`, `not_wanted` */
export function IntervalForm({ service }) {
  const shown = (number) => (number ? showNumber(number) : "");
  const draft = useDraft(`interval.${serviceNo(service)}`, { every_hours: shown(service.every_hours),
    every_months: shown(service.every_months), not_wanted: Boolean(service.not_wanted), because: "" });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readInterval(service, draft.values);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const done = await record("do/interval", body, INTERVAL.text(body.service), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state !== "refused") draft.clear();
  };
  const field = (name) => ({ name, value: draft.values[name], fault: state.faults[name],
    onValue: (typed) => draft.set({ [name]: typed }) });
  return html`<details class="fold" data-piece="interval"><summary>${INTERVAL.title}</summary>
    <form class="stack" onSubmit=${submit} data-form="interval"><${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
      <p class="quiet">${INTERVAL.help}</p>
      <${NumberField} label=${INTERVAL.hours} unit="h" ...${field("every_hours")} />
      <${NumberField} label=${INTERVAL.months} ...${field("every_months")} />
      <${TickField} label=${INTERVAL.not_wanted} name="not_wanted" checked=${draft.values.not_wanted}
        onValue=${(not_wanted) => draft.set({ not_wanted })} />
      <${TextField} label=${INTERVAL.because} ...${field("because")} />
      <${Problem} error=${state.error} /><button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : INTERVAL.now}</button>
    </form></details>`;
}
