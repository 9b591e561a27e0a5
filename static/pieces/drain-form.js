/** Recording a drain point: at lay-up what was drained or treated, at fitting-out what was closed. */

import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { LAYUP, SAY } from "../words.js";
import { ChoiceField, NoteField, RadioField, Restored, TextField, TickField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";

/** What stands in the form at first: as the point is meant to be left. */
export const usualOf = (point) => ({ done: point.treated ? "treated" : "drained", seen_to_run: false, strength: "",
  cock: point.cock ?? "", plug_in: false, seal_renewed: false, no_leak: false, by: "", note: "" });

/** Put the record together; a strength is a temperature with comma or point, mostly below zero. */
export function readDrained(point, turn, values) {
  const faults = {};
  const body = { turn, ...(point.no ? { point: point.no } : { machine: point.machine, name: point.named }) };
  if (values.cock) body.cock = values.cock;
  for (const name of ["by", "note"]) if (values[name].trim()) body[name] = values[name].trim();
  if (turn === "fitting-out") {
    return { faults, body: { ...body, plug_in: values.plug_in, seal_renewed: values.seal_renewed, no_leak: values.no_leak } };
  }
  body.done = values.done;
  if (values.done === "drained") body.seen_to_run = values.seen_to_run;
  const strength = values.strength.trim().replace("−", "-");
  if (values.done === "treated" && strength) {
    if (/^-?\d{1,3}([.,]\d+)?$/.test(strength)) body.protects_to_c = strength;
    else faults.strength = "not-a-number";
  }
  return { faults, body };
}

/** @param {{point: object, turn: string}} props */
export function DrainForm({ point, turn }) {
  const draft = useDraft(`drain.${turn}.${point.machine}.${point.named}`, usualOf(point));
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const { values } = draft;
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readDrained(point, turn, values);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const done = await record("do/drained", body, LAYUP.text(point.point, LAYUP.turn[turn]), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state !== "refused") draft.clear();
  };
  const field = (name) => ({ name, value: values[name], fault: state.faults[name], onValue: (typed) => draft.set({ [name]: typed }) });
  const tick = (name, label) => html`<${TickField} label=${label} name=${name} checked=${values[name]}
    onValue=${(on) => draft.set({ [name]: on })} />`;
  return html`<form class="stack" onSubmit=${submit} data-form="drained"><${Restored} draft=${draft} />
    ${turn === "lay-up" ? html`<${RadioField} label=${LAYUP.ask_done} options=${LAYUP.dones} value=${values.done}
        name=${`done-${point.machine}-${point.named}`} onValue=${(done) => draft.set({ done })} />
      ${values.done === "drained" && tick("seen_to_run", LAYUP.ask_run)}
      ${values.done === "treated" && html`<${TextField} label=${LAYUP.strength} hint=${LAYUP.strength_hint} unit="°C" ...${field("strength")} />
        <p class="quiet">${LAYUP.cold_side}</p>`}`
    : html`${tick("plug_in", LAYUP.ask_plug)}${tick("seal_renewed", LAYUP.ask_seal)}${tick("no_leak", LAYUP.ask_leak)}`}
    <${ChoiceField} label=${LAYUP.ask_cock} options=${LAYUP.cocks} ...${field("cock")} />
    <${TextField} label=${LAYUP.by} ...${field("by")} /><${NoteField} label=${LAYUP.note} ...${field("note")} />
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : LAYUP.record}</button></form>`;
}
