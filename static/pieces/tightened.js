/** With what torque a joint was made up, when it is to be tightened again; and recording it. */

import { joinDay, showDay } from "../dates.js";
import { useDraft } from "../load.js";
import { parseFigure, showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { SAY, TIGHTEN } from "../words.js";
import { DayField, FaultSummary, NoteField, NumberField, Restored, TextField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";

const NO_DAY = { day: "", month: "", year: "" };

/** Put the change together; faults name their field. */
export function readTightened(joint, values) {
  const faults = {};
  const body = { joint, torque_used: values.torque_used.trim() };
  if (!body.torque_used) faults.torque_used = "empty";
  const day = joinDay(values.again_on);
  if (day.value) body.again_on = day.value;
  else if (day.problem !== "empty") faults.again_on = day.problem;
  const { value, problem } = parseFigure(values.again_at);
  if (!problem) body.again_at = value;
  else if (problem !== "empty") faults.again_at = problem;
  for (const name of ["by", "note"]) if (values[name].trim()) body[name] = values[name].trim();
  return { faults, body };
}

/** Write when a joint is to be tightened again; empty where it is not. */
export const againText = ({ again_on, again_at_hours: hours }) =>
  TIGHTEN.again({ again_on, again_at_hours: (hours ?? null) === null ? null : showNumber(hours) }, showDay);

/** @param {{joint: object}} props */
export function Tightened({ joint }) {
  const draft = useDraft(`tightened.${joint.joint}`, { torque_used: "", again_on: NO_DAY, again_at: "", by: "", note: "" });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readTightened(joint.joint, draft.values);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const done = await record("do/tightened", body, TIGHTEN.text(joint.joint, body.torque_used), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state !== "refused") draft.clear();
  };
  const field = (name) => ({ name, value: draft.values[name], fault: state.faults[name], onValue: (typed) => draft.set({ [name]: typed }) });
  return html`<section data-piece="tightened"><h2>${TIGHTEN.title}</h2>
    <ul class="plain">${(joint.tightened ?? []).map((one, place) => html`<li>${showDay(one.on)}: <span class="strong">${one.torque_used}</span>
      ${[one.by, one.note, place === 0 && againText(one) && TIGHTEN.line(againText(one))].filter(Boolean).map((text) => `, ${text}`)}</li>`)}</ul>
    <details><summary>${TIGHTEN.form}</summary><form class="stack" onSubmit=${submit} data-form="tightened">
      <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
      <${TextField} label=${TIGHTEN.torque} hint=${TIGHTEN.torque_hint} ...${field("torque_used")} />
      <${DayField} label=${TIGHTEN.again_on} hint=${TIGHTEN.none} ...${field("again_on")} />
      <${NumberField} label=${TIGHTEN.again_at} unit="h" ...${field("again_at")} />
      <${TextField} label=${TIGHTEN.by} ...${field("by")} /><${NoteField} label=${TIGHTEN.note} ...${field("note")} />
      <${Problem} error=${state.error} /><button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : TIGHTEN.record}</button></form></details></section>`;
}
