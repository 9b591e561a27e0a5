/** One answer of the walk-round: how it is known, in words, and what goes into the records besides. */

import { joinDay } from "../dates.js";
import { useDraft } from "../load.js";
import { parseFigure } from "../numbers.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { KNOWN, ROUND, SAY } from "../words.js";
import { DayField, FaultSummary, NumberField, RadioField, Restored, TextField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";

const PLATE = ["maker", "model", "serial"];
const EMPTY = { origin: "seen", answer: "", by: "", maker: "", model: "", serial: "", hours: "",
  done_on: { day: "", month: "", year: "" } };

/** Put the answer together; faults name their field. */
export function readFound({ question, about }, values) {
  const faults = {};
  const body = { question, about, origin: values.origin };
  for (const name of ["answer", "by", ...(question === "plate" ? PLATE : [])]) {
    if (values[name].trim()) body[name] = values[name].trim();
  }
  if (question === "history" && Object.values(values.done_on).some((typed) => typed.trim())) {
    const day = joinDay(values.done_on, { cut: true });
    if (day.problem) faults.done_on = day.problem;
    body.done_on = day.value;
  }
  if (question === "history" && values.hours.trim()) {
    const hours = parseFigure(values.hours);
    if (hours.problem) faults.hours = hours.problem;
    else body.hours = hours.value;
    if (!body.done_on && !faults.done_on) faults.done_on = "empty";
  }
  const isSaid = ["answer", "done_on", ...PLATE].some((name) => body[name]);
  if (!isSaid && !Object.keys(faults).length) faults.answer = "empty";
  return { faults, body };
}

/** @param {{question: object, what: string}} props */
export function FoundForm({ question, what }) {
  const draft = useDraft(`found.${question.question}.${question.about}`, EMPTY);
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readFound(question, draft.values);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const done = await record("do/found", body, ROUND.text(what, KNOWN[body.origin].word.toLowerCase()), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state !== "refused") draft.clear();
  };
  const field = (name) => ({ name, value: draft.values[name], fault: state.faults[name],
    onValue: (typed) => draft.set({ [name]: typed }) });
  return html`<form class="stack" onSubmit=${submit} data-form="found">
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${RadioField} label=${ROUND.ask} options=${ROUND.origins} value=${draft.values.origin}
      name=${`origin-${question.question}-${question.about}`} onValue=${(origin) => draft.set({ origin })} />
    ${question.question === "plate" && PLATE.map((name) => html`<${TextField} key=${name} label=${ROUND.plate[name]} ...${field(name)} />`)}
    ${question.question === "history" && html`<${DayField} label=${ROUND.done_on} hint=${ROUND.done_hint} ...${field("done_on")} />
      <${NumberField} label=${ROUND.hours} unit="h" ...${field("hours")} />`}
    <${TextField} label=${ROUND.answer[question.question]} ...${field("answer")} />
    <${TextField} label=${ROUND.by} ...${field("by")} />
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : ROUND.record}</button></form>`;
}
