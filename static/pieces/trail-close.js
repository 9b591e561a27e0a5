/** What closes a trail beside finding the pieces: the skipper's word in writing, or the number put right. */

import { showDay } from "../dates.js";
import { isSkipper } from "../kept/kept.js";
import { useDraft } from "../load.js";
import { parseNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { SAY, TRAIL } from "../words.js";
import { FaultSummary, NoteField, NumberField, Restored, TextField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { today } from "./today.js";

/** Put the acceptance together; name and reason have to be there. */
export function readAcceptance(trail, values, at) {
  const faults = Object.fromEntries(["by", "why"].filter((name) => !values[name].trim()).map((name) => [name, "empty"]));
  return { faults, body: { trail, by: values.by.trim(), why: values.why.trim(), at } };
}

/** Read how many pieces are missing, of how many; an empty field: nobody knows. */
export function readCount(values) {
  const faults = {};
  const read = (name) => {
    const { value, problem } = parseNumber(values[name]);
    if (problem === "empty") return null;
    if (problem || !Number.isInteger(value) || value < 1) faults[name] = problem || (value < 1 ? "too-small" : "not-whole");
    return value;
  };
  const [missing, of_pieces] = [read("missing"), read("of_pieces")];
  if (!Object.keys(faults).length && missing !== null && of_pieces !== null && missing > of_pieces) faults.missing = "more-than-all";
  return { faults, body: { ...(missing !== null && { missing }), ...(of_pieces !== null && { of_pieces }) } };
}

function useSaying(path, draft) {
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const say = async ({ faults, body }, text) => {
    const isFaulty = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isFaulty });
    if (isFaulty) return;
    const done = await record(path, body, text, { form: true });
    setState({ faults: {}, error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state !== "refused") draft.clear();
  };
  return [state, say];
}

function AcceptForm({ trail }) {
  const draft = useDraft(`trail-accept.${trail.no}`, { by: "", why: "" });
  const [state, say] = useSaying("do/trail-accept", draft);
  const field = (name) => ({ value: draft.values[name], name: `accept-${name}`, fault: state.faults[name],
    onValue: (typed) => draft.set({ [name]: typed }) });
  const submit = (event) => {
    event.preventDefault();
    say(readAcceptance(trail.no, draft.values, today(summary.value)), TRAIL.accept_text(trail.no, draft.values.by.trim()));
  };
  return html`<form class="stack" onSubmit=${submit} data-form="trail-accept"><p>${TRAIL.close_help}</p>
    ${trail.not_looked > 0 && html`<p class="strong">${TRAIL.not_all_looked(trail.not_looked)}</p>`}
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${TextField} label=${TRAIL.accept_by} ...${field("by")} /><${NoteField} label=${TRAIL.accept_why} ...${field("why")} />
    <${Problem} error=${state.error} />
    <button disabled=${state.sending}>${state.sending ? SAY.recording : TRAIL.accept}</button></form>`;
}

function CountForm({ trail }) {
  const draft = useDraft(`trail-count.${trail.no}`, {});      // only what was touched: the rest is as recorded now
  const values = { missing: String(trail.missing ?? ""), of_pieces: String(trail.of_pieces ?? ""), ...draft.values };
  const [state, say] = useSaying("do/trail-count", draft);
  const field = (name) => ({ value: values[name], name: `count-${name}`, fault: state.faults[name],
    onValue: (typed) => draft.set({ [name]: typed }) });
  const submit = (event) => {
    event.preventDefault();
    const { faults, body } = readCount(values);
    say({ faults, body: { trail: trail.no, ...body } }, TRAIL.count_text(trail.no));
  };
  return html`<form class="stack" onSubmit=${submit} data-form="trail-count">
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${NumberField} label=${TRAIL.missing} hint=${TRAIL.missing_hint} ...${field("missing")} />
    <${NumberField} label=${TRAIL.of_pieces} ...${field("of_pieces")} />
    <${Problem} error=${state.error} /><button disabled=${state.sending}>${TRAIL.count_save}</button></form>`;
}

/** Who accepted it and why; it stays visible, and can be taken back. */
export function Accepted({ trail }) {
  const [error, setError] = useState(null);
  const { by, on, why, pieces } = trail.accepted;
  const back = async () => {
    const done = await record("do/trail-accept", { trail: trail.no, taken_back: true }, TRAIL.taken_back_text(trail.no), { form: true });
    setError(done.state === "refused" ? done.error : null);
  };
  return html`<div class="panel stack-tight" data-piece="trail-accepted"><p class="strong">${TRAIL.accepted(by, showDay(on), pieces)}</p><p>${why}</p>
    ${isSkipper() && html`<div><button type="button" onClick=${back}>${TRAIL.take_back}</button></div>`}
    <${Problem} error=${error} /></div>`;
}

/** @param {{trail: object}} props */
export function TrailClose({ trail }) {
  const canAccept = trail.state === "open" && (trail.left === null || trail.left > 0);
  return html`<section class="stack" data-piece="trail-close">
    ${canAccept && !isSkipper() && html`<p class="quiet">${TRAIL.skipper_only}</p>`}
    ${canAccept && isSkipper() && html`<details><summary>${TRAIL.close_title}</summary><${AcceptForm} trail=${trail} /></details>`}
    ${isSkipper() && html`<details><summary>${TRAIL.count_title}</summary><${CountForm} key=${`${trail.missing} ${trail.of_pieces}`}
      trail=${trail} /></details>`}</section>`;
}
