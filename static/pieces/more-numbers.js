/** What else a part goes by: a further number, or another record that is the same part. */

import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { go } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { NUMBERS, SAY } from "../words.js";
import { ChoiceField, FaultSummary, Restored, TextField } from "./fields.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { PartPicker } from "./picker.js";
import { Problem } from "./problem.js";

/** Put the change together; the number has to be there. */
export function readNumber(part, values) {
  const faults = values.number.trim() ? {} : { number: "empty" };
  const fields = { part: `part/${part.id}`, number: values.number.trim(), what: values.what };
  if (values.maker.trim()) fields.maker = values.maker.trim();
  return { faults, body: { kind: "number", fields } };
}

function NumberForm({ part, close }) {
  const draft = useDraft(`number.${nameOf(part)}`, { maker: "", number: "", what: "cross" });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const { values, set } = draft;
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readNumber(part, values);
    setState({ faults, error: null, sending: !Object.keys(faults).length });
    if (Object.keys(faults).length) return;
    const done = await record("documents", body, NUMBERS.added(nameOf(part), body.fields.number), { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state === "refused") return;
    draft.clear();
    close();
  };
  const field = (name) => ({ value: values[name], fault: state.faults[name], name: `more-${name}`,
    onValue: (typed) => set({ [name]: typed }) });
  return html`<form class="stack" onSubmit=${submit} data-form="number">
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${TextField} label=${NUMBERS.number} ...${field("number")} autocapitalize="none" spellcheck=${false} />
    <${TextField} label=${NUMBERS.maker} ...${field("maker")} />
    <${ChoiceField} label=${NUMBERS.is} options=${Object.entries(NUMBERS.what)} ...${field("what")} />
    <${Problem} error=${state.error} />
    <button disabled=${state.sending}>${state.sending ? SAY.recording : NUMBERS.add}</button></form>`;
}

/** Two records of one part: chosen, seen with its name, and only then said. */
function SameForm({ part, close }) {
  const [other, setOther] = useState(null);
  const [error, setError] = useState(null);
  const say = async () => {
    const body = { keep: nameOf(part), drop: nameOf(other) };
    const done = await record("do/same", body, NUMBERS.same_text(body.drop, body.keep), { form: true });
    setError(done.state === "refused" ? done.error : null);
    if (done.state === "refused") return;
    close();
    go(["part", nameOf(part)]);
  };
  if (!other) return html`<${PartPicker} label=${NUMBERS.same_which} name="same" onPick=${setOther} />`;
  return html`<div class="stack" data-form="same">
    <p class="strong">${[nameOf(other), other.name, other.maker, other.number].filter(Boolean).join(" · ")}</p>
    <p>${NUMBERS.same_help(nameOf(other), nameOf(part))}</p><${Problem} error=${error} />
    <div class="buttons"><button type="button" onClick=${say} disabled=${nameOf(other) === nameOf(part)}>
        ${NUMBERS.same_say}</button>
      <button type="button" onClick=${() => setOther(null)}>${SAY.cancel}</button></div></div>`;
}

/** @param {{part: object}} props; the skipper's, for the crew writes no documents */
export function MoreNumbers({ part }) {
  const [open, setOpen] = useState(null);
  const choice = (name) => html`<button type="button" aria-expanded=${open === name}
    onClick=${() => setOpen(open === name ? null : name)}>${NUMBERS.ask[name]}</button>`;
  const close = () => setOpen(null);
  return html`<div class="stack" data-piece="more-numbers"><div class="buttons">${choice("number")}${choice("same")}</div>
    ${open === "number" && html`<${NumberForm} part=${part} close=${close} />`}
    ${open === "same" && html`<${SameForm} part=${part} close=${close} />`}</div>`;
}
