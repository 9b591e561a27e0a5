/** One hour reading; a doubtful one is asked about and stored only with a reason. */

import { joinDay, splitDay } from "../dates.js";
import { useDraft, useLoad } from "../load.js";
import { parseNumber, showHours } from "../numbers.js";
import { record } from "../outbox.js";
import { DayField, FaultSummary, NumberField, Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { today } from "../pieces/today.js";
import { TwoReadings, asksOf } from "../pieces/two-readings.js";
import { href } from "../routes.js";
import { go, route, summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { SAY, TITLE, WORK } from "../words.js";
import { readingText } from "./readings.js";

/** Put the change together; faults name their field. */
export function readReading(machine, values, asked) {
  const faults = {};
  const hours = parseNumber(values.hours);
  if (hours.problem) faults.hours = hours.problem;
  const day = joinDay(values.at);
  if (day.problem) faults.at = day.problem;
  if (asked && !values.because.trim()) faults.because = "empty";
  const body = { machine, hours: hours.value, at: day.value };
  if (values.because.trim()) body.because = values.because.trim();
  return { faults, body };
}

function Form({ machine }) {
  const no = machine.no;
  const draft = useDraft(`reading.${no}`, { hours: "", at: null, because: "" });
  const [state, setState] = useState({ faults: {}, error: null, sending: false, asks: null });
  const asked = state.error?.code === "ask-first";
  const { set } = draft;
  const values = { ...draft.values, at: draft.values.at ?? splitDay(today(summary.value)) };
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readReading(no, values, asked);
    const asks = asksOf(values, machine.hours);
    if (asks || Object.keys(faults).length) { setState({ ...state, faults, asks }); return; }
    setState({ ...state, faults: {}, asks: null, sending: true });
    const text = WORK.hours_text(no, showHours(body.hours));
    const done = await record("do/reading", body, text, { form: true });
    if (done.state === "refused") { setState({ faults: {}, asks: null, error: done.error, sending: false }); return; }
    draft.clear();
    go(["work", "readings"]);
  };
  const meant = (picked) => { set(picked); setState({ ...state, asks: null }); };
  const field = (name) => ({ value: values[name], fault: state.faults[name], name,
    onValue: (typed) => set({ [name]: typed }) });
  return html`<form class="stack" onSubmit=${submit} data-form="reading">
    <p>${readingText(machine)}</p><${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${NumberField} label=${WORK.hours_title} unit="h" ...${field("hours")} />
    <${TwoReadings} choices=${state.asks} onPick=${meant} />
    <${DayField} label=${WORK.hours_on} today=${today(summary.value)} ...${field("at")} />
    <${Problem} error=${state.error} />
    ${asked && html`<${TextField} label=${WORK.because} hint=${WORK.because_hint} ...${field("because")} />
      <div class="stack-tight">${WORK.becauses.map(([because, words]) => html`<button type="button"
        onClick=${() => set({ because })}>${words}</button>`)}</div>`}
    <button class="main" disabled=${state.sending}>
      ${state.sending ? SAY.recording : asked ? WORK.keep_anyway : WORK.hours_now}</button>
  </form>`;
}

/** Hours of one machine. */
export function ReadingView() {
  const { machine } = route.value.params;
  const load = useLoad(`machines/${encodeURIComponent(machine)}`);
  return html`<${Page} title=${load.data ? `${TITLE.reading}: ${load.data.name}` : TITLE.reading}
    back=${[href(["work", "readings"]), TITLE.readings]}>
    <${Loaded} load=${load}>${(data) => html`<${Form} machine=${data} />`}<//>
  <//>`;
}
