/** Recording a service as done: date, hours on the counter, kit taken, by whom. */

import { joinDay, showDay, splitDay } from "../dates.js";
import { draftName, useDraft, useLoad } from "../load.js";
import { parseNumber, showHours } from "../numbers.js";
import { record } from "../outbox.js";
import { forget, recall } from "../phone-store.js";
import { summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { RUN, SAY, WORK } from "../words.js";
import { ChoiceField, DayField, FaultSummary, NoteField, NumberField, Restored, TextField, TickField } from "./fields.js";
import { html } from "./html.js";
import { cardDraft, noteOfCard } from "./job-card.js";
import { Problem } from "./problem.js";
import { runBody } from "./run-form.js";
import { serviceNo } from "./service-line.js";
import { today } from "./today.js";
import { TwoReadings, asksOf } from "./two-readings.js";

/** Put the change together; faults name their field. A date may be cut to month or year. */
export function readDone(service, values) {
  const faults = {};
  const day = joinDay(values.at, { cut: true });
  if (day.problem) faults.at = day.problem;
  const hours = parseNumber(values.hours);
  if (hours.problem && hours.problem !== "empty") faults.hours = hours.problem;
  const body = { service, at: day.value, kit: values.kit };
  if (hours.value !== null) body.hours = hours.value;
  if (values.by.trim()) body.by = values.by.trim();
  if (values.proof) body.proof = values.proof;
  if (values.note.trim()) body.note = values.note.trim();
  if (values.failed?.length) body.failed = values.failed;
  return { faults, body };
}

/** Which parts of the kit had failed; they count in the vessel's own failure rates. */
function Failed({ kit, failed, set }) {
  const [open, setOpen] = useState(failed.length > 0);
  if (!kit?.length) return null;
  const change = (part, on) => set({ failed: on ? [...failed, part] : failed.filter((one) => one !== part) });
  return html`<div><button type="button" aria-expanded=${open} onClick=${() => setOpen(!open)}>${WORK.failed}</button>
    ${open && html`<p class="quiet">${WORK.failed_help}</p>${kit.map((line) => html`<${TickField} label=${line.name}
      name=${`failed-${line.part}`} checked=${failed.includes(line.part)} onValue=${(on) => change(line.part, on)} />`)}`}</div>`;
}

/** @param {{service: object}} props */
export function DoneForm({ service }) {
  const no = serviceNo(service);
  const machine = useLoad(`machines/${encodeURIComponent(service.machine)}`).data;
  const card = useLoad(`services/${encodeURIComponent(no)}/card`).data;
  const counted = machine && machine.counter !== "none";
  const draft = useDraft(`done.${no}`, { at: null, hours: "", kit: true, by: "", proof: "", note: "", failed: [] });
  const [state, setState] = useState({ faults: {}, error: null, sending: false, asks: null });
  const { set } = draft;
  const values = { ...draft.values, at: draft.values.at ?? splitDay(today(summary.value)) };
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readDone(no, values);
    const kept = recall(draftName(cardDraft(no)));
    const told = noteOfCard(card, kept);
    if (told) body.note = [body.note, told].filter(Boolean).join(". ");
    const asks = asksOf(values, machine?.hours ?? null);
    setState({ faults, error: null, asks, sending: !asks && !Object.keys(faults).length });
    if (asks || Object.keys(faults).length) return;
    const done = await record("do/done", body, WORK.done_text(`${no} ${service.what}`), { form: true });
    if (done.state === "refused") { setState({ faults: {}, error: done.error, asks: null, sending: false }); return; }
    const ran = runBody(card?.machine, card?.test_run, kept);
    if (ran) await record("do/test-run", { ...ran, service: no, ...(body.at?.length === 10 ? { at: body.at } : {}) }, RUN.text(card.machine));
    draft.clear();
    forget(draftName(cardDraft(no)));
    setState({ faults: {}, error: null, asks: null, sending: false });
  };
  const meant = (picked) => { set(picked); setState({ ...state, asks: null }); };
  const field = (name) => ({ value: values[name], fault: state.faults[name], name,
    onValue: (typed) => set({ [name]: typed }) });
  return html`<form class="panel stack" onSubmit=${submit} data-form="done"><h2>${WORK.done_title}</h2>
    <${FaultSummary} faults=${state.faults} />
    <${Restored} draft=${draft} />
    <${DayField} label=${WORK.done_on} today=${today(summary.value)} ...${field("at")} />
    ${counted && html`<${NumberField} label=${WORK.at_hours} unit="h" ...${field("hours")}
      hint=${machine.hours !== null && machine.hours !== undefined
        ? WORK.at_hours_last(showHours(machine.hours), showDay(machine.read_on)) : null} />`}
    <${TwoReadings} choices=${state.asks} onPick=${meant} />
    <${TickField} label=${WORK.kit_used} checked=${values.kit} name="kit" onValue=${(kit) => set({ kit })} />
    <${Failed} kit=${service.kit} failed=${values.failed ?? []} set=${set} />
    <${TextField} label=${WORK.by} ...${field("by")} />
    <${ChoiceField} label=${WORK.proof} options=${Object.entries(WORK.proofs)} ...${field("proof")} value=${values.proof ?? ""} />
    <${NoteField} label=${WORK.note} ...${field("note")} />
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : WORK.done_now}</button>
  </form>`;
}
