/** Putting the flow order right: add a place, change one, move it up, take it off. */

import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { TRAIL, told } from "../words.js";
import { ChoiceField, FaultSummary, Restored, TextField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";

const EMPTY = { name: "", opens: "", seal: "", before: "" };

const FACTS = ["name", "opens", "seal"];
const valuesOf = (place) => ({ ...EMPTY, ...Object.fromEntries(FACTS.map((name) => [name, place?.[name] ?? ""])) });

/**
 * Put the change together; a place has to have a name. Of one that is there (`place`) only what differs from now: what
 * somebody put right meanwhile is not written over.
 */
export function readPlace(trail, place, values) {
  if (!values.name.trim()) return { faults: { name: "empty" }, body: null };
  const facts = FACTS.filter((name) => !place || values[name].trim() !== valuesOf(place)[name]);
  const body = { trail, ...Object.fromEntries(facts.map((name) => [name, values[name].trim()])) };
  if (place) return { faults: {}, body: facts.length ? { ...body, place: place.place } : {} };
  if (values.before) body.before = values.before;
  return { faults: {}, body };
}

function PlaceForm({ trail, place, done }) {
  const draft = useDraft(`trail-place.${trail.no}.${place?.place ?? "new"}`, {});     // only what was touched: the rest is as recorded now
  const values = { ...valuesOf(place), ...draft.values };
  const [state, setState] = useState({ faults: {}, error: null });
  const field = (name) => ({ value: values[name], name: `place-${name}`, fault: state.faults[name],
    onValue: (typed) => draft.set({ [name]: typed }) });
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readPlace(trail.no, place, values);
    setState({ faults, error: null });
    if (!body) return;
    const made = body.trail && await record("do/trail-place", body, TRAIL.place_text(trail.no, values.name.trim()), { form: true });
    if (made?.state === "refused") { setState({ faults: {}, error: made.error }); return; }
    draft.clear();
    done();
  };
  return html`<form class="stack" onSubmit=${submit} data-form="trail-place">
    <${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${TextField} label=${TRAIL.place_name} ...${field("name")} />
    <${TextField} label=${TRAIL.place_opens} ...${field("opens")} />
    <${TextField} label=${TRAIL.place_seal} ...${field("seal")} />
    ${!place && trail.places.length > 0 && html`<${ChoiceField} label=${TRAIL.place_before} ...${field("before")}
      options=${[["", TRAIL.place_last], ...trail.places.map((one) => [one.place, told(one.name)])]} />`}
    <${Problem} error=${state.error} /><button>${TRAIL.save}</button></form>`;
}

function Line({ trail, place, above }) {
  const [open, setOpen] = useState(false);
  const [error, setError] = useState(null);
  const say = async (body, text) => {
    const made = await record("do/trail-place", { trail: trail.no, place: place.place, ...body }, text, { form: true });
    setError(made.state === "refused" ? made.error : null);
  };
  return html`<li class="line stack-tight" data-order=${place.number}><p class="name">${place.number}. ${told(place.name)}</p>
    <div class="buttons">
      ${above && html`<button type="button" onClick=${() => say({ before: above.place }, TRAIL.place_text(trail.no, place.name))}>${TRAIL.earlier}</button>`}
      <button type="button" aria-expanded=${open} onClick=${() => setOpen(!open)}>${TRAIL.change}</button>
      <button type="button" class="plain" onClick=${() => say({ gone: true }, TRAIL.off_text(trail.no, place.name))}>${TRAIL.take_off}</button></div>
    ${open && html`<${PlaceForm} trail=${trail} place=${place} done=${() => setOpen(false)} />`}
    <${Problem} error=${error} /></li>`;
}

/** @param {{trail: object}} props */
export function TrailOrder({ trail }) {
  const [open, setOpen] = useState(false);
  return html`<details data-piece="trail-order"><summary>${TRAIL.put_right}</summary>
    <ul class="lines">${trail.places.map((place, at) => html`<${Line} key=${place.place} trail=${trail} place=${place}
      above=${trail.places[at - 1]} />`)}</ul>
    <div><button type="button" aria-expanded=${open} onClick=${() => setOpen(!open)}>${TRAIL.add}</button></div>
    ${open && html`<${PlaceForm} trail=${trail} place=${null} done=${() => setOpen(false)} />`}</details>`;
}
