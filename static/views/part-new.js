/** A part that nobody has recorded yet. */

import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { FaultSummary, Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Problem } from "../pieces/problem.js";
import { href } from "../routes.js";
import { go, route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, NEW_PART, SAY, TITLE } from "../words.js";

const FIELDS = Object.keys(NEW_PART.fields);

/** Put the change together; only the name has to be there. */
export function readPart(values) {
  const fields = Object.fromEntries(FIELDS.map((name) => [name, values[name].trim()]).filter(([, text]) => text));
  if (fields.kind) fields.kind = fields.kind.toLowerCase().replace(/\s+/g, "-");
  return { faults: fields.name ? {} : { name: "empty" }, body: { kind: "part", fields } };
}

/** The form; what was typed into Find is the name to begin with. */
export function PartNewView() {
  const draft = useDraft("part-new", { name: route.value.query.name ?? "", maker: "", number: "", kind: "", unit: "", note: "" });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const { values, set } = draft;
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readPart(values);
    setState({ faults, error: null, sending: !Object.keys(faults).length });
    if (Object.keys(faults).length) return;
    const done = await record("documents", body, NEW_PART.text(body.fields.name), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state === "refused") return;
    draft.clear();
    go(done.answer?.doc ? ["part", done.answer.doc.replace("part/", "")] : ["aboard", "parts"]);
  };
  const field = (name) => ({ label: NEW_PART.fields[name][0], hint: NEW_PART.fields[name][1], value: values[name], name,
    fault: state.faults[name], onValue: (typed) => set({ [name]: typed }) });
  return html`<${Page} title=${TITLE["part-new"]} back=${[href(["aboard", "parts"]), ABOARD.parts]}>
    <form class="stack" onSubmit=${submit} data-form="part-new">
      <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
      ${FIELDS.map((name) => html`<${TextField} key=${name} ...${field(name)} />`)}
      <${Problem} error=${state.error} />
      <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : NEW_PART.record}</button></form><//>`;
}
