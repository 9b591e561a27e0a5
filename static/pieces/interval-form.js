/** How often a service comes round from now on, or that it is not wanted here; with the reason. */

import { useDraft } from "../load.js";
import { fieldText, parseFigure } from "../numbers.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { INTERVAL, SAY } from "../words.js";
import { FaultSummary, NumberField, Restored, TextField, TickField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { serviceNo } from "./service-line.js";

const MOST = { every_hours: 1_000_000, every_months: 1200 };

/** What the fields show while nobody has touched them. */
function shownOf(service) {
  const shown = (number) => (number ? fieldText(number) : "");
  return { every_hours: shown(service.every_hours), every_months: shown(service.every_months),
    not_wanted: Boolean(service.not_wanted), because: "" };
}

function faultOf(field, { problem, value }) {
  if (problem) return problem;
  if (value < 0) return "too-small";
  if (value > MOST[field]) return "too-large";
  return field === "every_months" && !Number.isInteger(value) ? "not-whole" : null;
}

/** Put the change together: of what was *touched* only what differs from now; faults name their field. */
export function readInterval(service, touched) {
  const faults = {};
  const body = { service: serviceNo(service), because: (touched.because ?? "").trim() };
  for (const field of ["every_hours", "every_months"].filter((one) => one in touched)) {
    const typed = touched[field].trim() ? parseFigure(touched[field]) : { value: 0 };
    const fault = faultOf(field, typed);
    if (fault) faults[field] = fault;
    else if (typed.value !== (service[field] ?? 0)) body[field] = typed.value;
  }
  const { not_wanted } = touched;
  if (not_wanted !== undefined && not_wanted !== Boolean(service.not_wanted)) body.not_wanted = not_wanted;
  if (!body.because) faults.because = "empty";
  return { faults, body };
}

/** Name the fault of each field that a change was refused for. */
const faultsOf = (error) => Object.fromEntries((error.errors ?? [])
  .map(({ pointer, detail }) => [(pointer ?? "").replace("#/", ""), detail]).filter(([field]) => field in shownOf({})));

/** @param {{service: object}} props with `every_hours`, `every_months`, `not_wanted` */
export function IntervalForm({ service }) {
  const draft = useDraft(`interval-of.${serviceNo(service)}`, {});   // only what was touched: the rest is as recorded now
  const values = { ...shownOf(service), ...draft.values };
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readInterval(service, draft.values);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const done = await record("do/interval", body, INTERVAL.text(body.service), { form: true });
    const error = done.state === "refused" ? done.error : null;
    setState({ faults: error ? faultsOf(error) : {}, error, sending: false });
    if (!error) draft.clear();
  };
  const field = (name) => ({ name, value: values[name], fault: state.faults[name],
    onValue: (typed) => draft.set({ [name]: typed }) });
  return html`<details class="fold" data-piece="interval"><summary>${INTERVAL.title}</summary>
    <form class="stack" onSubmit=${submit} data-form="interval"><${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
      <p class="quiet">${INTERVAL.help}</p>
      <${NumberField} label=${INTERVAL.hours} unit="h" ...${field("every_hours")} />
      <${NumberField} label=${INTERVAL.months} ...${field("every_months")} />
      <${TickField} label=${INTERVAL.not_wanted} name="not_wanted" checked=${values.not_wanted}
        onValue=${(not_wanted) => draft.set({ not_wanted })} />
      <${TextField} label=${INTERVAL.because} ...${field("because")} />
      <${Problem} error=${state.error} /><button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : INTERVAL.now}</button>
    </form></details>`;
}
