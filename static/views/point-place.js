/** Writing down the place of a fit point: what flows there, how hot, how it turns, which wire. */

import { useDraft, useLoad } from "../load.js";
import { record } from "../outbox.js";
import { ChoiceField, FaultSummary, NumberField, Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { nameOf, shortName } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { readSpot, valuesOfSpot } from "../pieces/spot.js";
import { href } from "../routes.js";
import { go, route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { SAY, SPOT, toldFit } from "../words.js";

/** Name the fault of each field that the boat's computer could not take. */
export function faultsOfPlace(error) {
  const named = (error?.errors ?? []).map((one) => [/^#\/fields\/place\/(\w+)/.exec(one.pointer ?? "")?.[1], one.detail]);
  return Object.fromEntries(named.filter(([name]) => name));
}

function FieldOf({ name, ...rest }) {
  const shown = { name, label: SPOT.fields[name], hint: SPOT.hints[name], unit: SPOT.units[name], ...rest };
  const choices = SPOT.choices[name];
  if (choices) {
    return html`<${ChoiceField} ...${shown} options=${[["", SPOT.not_recorded],
      ...choices.map((code) => [code, SPOT.words[code] ?? toldFit(code).replaceAll("-", " ")])]} />`;
  }
  if (name === "mating_metal") return html`<${TextField} ...${shown} />`;
  return name in SPOT.units || name === "slip" ? html`<${NumberField} ...${shown} />`
    : html`<${ChoiceField} ...${shown} options=${SPOT.yes_no} />`;
}

function Form({ point }) {
  const draft = useDraft(`place.${nameOf(point)}`, {});      // only what was touched: the rest is as recorded now
  const values = { ...valuesOfSpot(point.place ?? {}), ...draft.values };
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const submit = async (event) => {
    event.preventDefault();
    const { faults, place } = readSpot(values);
    const isWrong = Object.keys(faults).length > 0;
    setState({ faults, error: null, sending: !isWrong });
    if (isWrong) return;
    const done = await record("documents", { kind: "point", doc: `point/${point.id}`, fields: { place } },
      SPOT.text(nameOf(point)), { form: true });
    const refused = done.state === "refused";
    setState({ faults: refused ? faultsOfPlace(done.error) : {}, error: refused ? done.error : null, sending: false });
    if (refused) return;
    draft.clear();
    go(["aboard", "points", nameOf(point)]);
  };
  return html`<form class="stack" onSubmit=${submit} data-form="place">
    <p>${SPOT.help}</p><${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    ${SPOT.groups.map(([title, names]) => html`<section key=${title} class="stack"><h2>${title}</h2>
      ${names.map((name) => html`<${FieldOf} key=${name} name=${name} value=${values[name]}
        fault=${state.faults[name]} onValue=${(typed) => draft.set({ [name]: typed })} />`)}</section>`)}
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : SPOT.record}</button></form>`;
}

/** The form's page. */
export function PointPlaceView() {
  const { point } = route.value.params;
  const load = useLoad(`points/${encodeURIComponent(point)}`);
  const head = load.data;
  return html`<${Page} title=${SPOT.title} sub=${head ? `${shortName(head.machine_name)} · ${head.name}` : point}
    back=${[href(["aboard", "points", point]), head?.name ?? point]}>
    <${Loaded} load=${load}>${(data) => html`<${Form} point=${data} />`}<//><//>`;
}
