/** Going without a part: who takes the risk, on which day, and why. It can be taken back. */

import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { SAY, WAYS } from "../words.js";
import { FaultSummary, NoteField, Restored, TextField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { today } from "./today.js";

/** Put the change together; who takes the risk has to be named. */
export function readAccept(trip, part, values, at) {
  const faults = values.by.trim() ? {} : { by: "empty" };
  const body = { trip, part, by: values.by.trim(), at };
  if (values.note.trim()) body.note = values.note.trim();
  return { faults, body };
}

/** @param {{line: object, trip: object}} props */
export function AcceptForm({ line, trip }) {
  const draft = useDraft(`accept.${trip.id}.${line.part}`, { by: "", note: "" });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const { values, set } = draft;
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readAccept(trip.no, line.part, values, today(summary.value));
    setState({ faults, error: null, sending: !Object.keys(faults).length });
    if (Object.keys(faults).length) return;
    const done = await record("do/accept", body, WAYS.accepted_text(line.part, body.by), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state !== "refused") draft.clear();
  };
  const field = (name) => ({ value: values[name], fault: state.faults[name], name: `accept-${name}`,
    onValue: (typed) => set({ [name]: typed }) });
  return html`<form class="stack" onSubmit=${submit} data-form="accept"><p>${WAYS.without_help}</p>
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${TextField} label=${WAYS.by} ...${field("by")} /><${NoteField} label=${WAYS.note} ...${field("note")} />
    <${Problem} error=${state.error} />
    <button disabled=${state.sending}>${state.sending ? SAY.recording : WAYS.accept}</button></form>`;
}
