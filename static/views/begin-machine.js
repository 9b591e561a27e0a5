/** A machine begun from a starter set: what takes parts on it and what comes round, to be put right. */

import { language } from "../language.js";
import { useDraft, useLoad } from "../load.js";
import { record } from "../outbox.js";
import { ChoiceField, Restored, TextField, TickField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { href } from "../routes.js";
import { go } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, BEGIN, SAY, WEIGHT, WORK, told, wordFor } from "../words.js";

/** Put the request together from what was typed; `off` are the places that she does not have. */
export function bodyOf({ sort, name, place, off }, set) {
  const points = set.points.map((_, at) => at + 1).filter((at) => !off.includes(at));
  return { starter: sort, name: name.trim() || null, place: place.trim() || null, points, ...(language !== "en" && { language }) };
}

/** The set in the person's language, in which it is written down too. */
const inWords = (set) => ({ ...set, name: told(set.name), source: told(set.source), note: told(set.note),
  points: set.points.map((one) => ({ ...one, name: told(one.name) })), services: set.services.map((one) => ({ ...one, what: told(one.what) })) });

function Points({ set, off, onOff }) {
  return html`<section><h2>${BEGIN.takes}</h2><p>${BEGIN.takes_help}</p>
    ${set.points.map((point, at) => html`<${TickField} name=${`point-${at + 1}`} checked=${!off.includes(at + 1)}
      label=${`${point.name} (${wordFor(WEIGHT, point.weight)})`}
      onValue=${(on) => onOff(on ? off.filter((one) => one !== at + 1) : [...off, at + 1])} />`)}</section>`;
}

const everyText = ({ every_h, every_months }) => BEGIN.every([every_h && `${every_h} h`,
  every_months && WORK.months(every_months)].filter(Boolean));

function Services({ set, off }) {
  const left = set.services.filter((work) => !off.includes(work.at));
  return html`<section><h2>${BEGIN.comes_round}</h2><p>${BEGIN.comes_help}</p><ul class="plain">
    ${left.map((work) => html`<li>${work.what}: ${everyText(work)}</li>`)}</ul></section>`;
}

function Form({ sets }) {
  const draft = useDraft("begin-machine", { sort: "", name: "", place: "", off: [] });
  const [state, setState] = useState({ error: null, sending: false });
  const { values, set } = draft;
  const chosen = sets.find((one) => one.id === values.sort);
  const submit = async (event) => {
    event.preventDefault();
    if (!chosen) return;
    setState({ error: null, sending: true });
    const done = await record("begin/machine", bodyOf(values, chosen), BEGIN.machine_text(values.name.trim() || chosen.name),
      { form: true, known: chosen });
    setState({ error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state === "refused") return;
    draft.clear();
    const machine = done.answer?.machine ?? done.answer?.doc?.replace("machine/", "");
    go(machine ? ["aboard", "machines", machine] : ["aboard", "begin"]);
  };
  return html`<form class="stack" onSubmit=${submit} data-form="begin-machine"><${Restored} draft=${draft} />
    <${ChoiceField} label=${BEGIN.sort} name="sort" value=${values.sort} onValue=${(sort) => set({ sort, off: [] })}
      options=${[["", BEGIN.choose_sort], ...sets.map((one) => [one.id, one.name])]} />
    ${chosen && html`<${TextField} label=${BEGIN.machine_name} name="machine-name" hint=${chosen.name} value=${values.name}
        onValue=${(name) => set({ name })} />
      <${TextField} label=${BEGIN.machine_place} name="machine-place" value=${values.place} onValue=${(place) => set({ place })} />
      <${Points} set=${chosen} off=${values.off} onOff=${(off) => set({ off })} />
      <${Services} set=${chosen} off=${values.off} />
      <${Problem} error=${state.error} />
      <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : BEGIN.machine_now}</button>`}</form>`;
}

/** The page: choose what it is, put the list right, add it. */
export function BeginMachineView() {
  const load = useLoad("starter-sets");
  return html`<${Page} title=${BEGIN.machine} back=${[href(["aboard", "begin"]), ABOARD.begin]}>
    <${Loaded} load=${load}>${({ sets }) => html`<${Form} sets=${sets.map(inWords)} />`}<//><//>`;
}
