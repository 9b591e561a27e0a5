/** A piece is missing: what, how many, where it came out, and the places downstream; the machine is marked at once. */

import { getJson } from "../api.js";
import { keptSince } from "../kept/answers.js";
import { useDraft, useLoad } from "../load.js";
import { record } from "../outbox.js";
import { paperUrl } from "../paper-url.js";
import { CautionBox } from "../pieces/caution-box.js";
import { ChoiceField, FaultSummary, NumberField, RadioField, Restored, TextField, TickField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { shortName } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { today } from "../pieces/today.js";
import { readCount } from "../pieces/trail-close.js";
import { href } from "../routes.js";
import { go, route, summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { SAY, TITLE, TRAIL, told } from "../words.js";

/** Give the places of a flow order that are to be looked at, without those taken off. */
export const chosenPlaces = (flow, off) => (flow?.places ?? []).filter((place) => !off.includes(place.name)
  && (!place.upstream || off.includes(`+${place.name}`)));

/** Put the change together; faults name their field. */
export function readBegin(machine, values, flow, at) {
  const { faults, body } = readCount(values);
  if (!values.what.trim()) faults.what = "empty";
  const places = chosenPlaces(flow, values.off).map(({ name, opens, seal, point }) =>
    ({ name, ...(opens && { opens }), ...(seal && { seal }), ...(point && { point }) }));
  return { faults, body: { machine, what: values.what.trim(), ...body, at, places,
    ...(values.point && { point: values.point }), ...(values.by.trim() && { by: values.by.trim() }) } };
}

/** The usual flow orders in the person's language, in which they are written down too. */
const inWords = (start) => ({ ...start, flows: start.flows.map((flow) => ({ ...flow, name: told(flow.name),
  places: flow.places.map((place) => ({ ...place, name: told(place.name), opens: told(place.opens), seal: told(place.seal) })) })) });

const sourceOf = ({ flow }) => TRAIL.source[flow.startsWith("note") ? "note" : flow === "last" ? "last" : "starter"];

/** Ticks of a flow order; what lies before the pump is off unless it is ticked. */
function Places({ flow, off, set }) {
  const isOn = (place) => chosenPlaces(flow, off).includes(place);
  const change = (place, on) => {
    const mark = place.upstream ? `+${place.name}` : place.name;
    const isMarked = on === Boolean(place.upstream);
    set({ off: isMarked ? [...off, mark] : off.filter((one) => one !== mark) });
  };
  return html`<fieldset><legend>${TRAIL.places}</legend><p class="hint">${TRAIL.places_help}</p>
    ${(flow?.places ?? []).map((place) => html`<${TickField} key=${`${flow.flow} ${place.name}`} label=${place.name} name=${`place-${place.name}`}
      checked=${isOn(place)} onValue=${(on) => change(place, on)} />`)}</fieldset>`;
}

/** Open the trail that was just begun: the latest of the machine. */
async function openLatest(machine) {
  const { trails } = await getJson("trails").catch(() => ({ trails: [] }));
  const numbers = trails.filter((one) => one.machine === machine).map((one) => one.no);
  const latest = numbers.sort((one, other) => one.length - other.length || (one < other ? -1 : 1)).at(-1);
  go(latest ? ["work", "trail", latest] : ["aboard", "machines", machine]);
}

function Form({ start }) {
  const { machine, flows } = start;
  const draft = useDraft(`trail-begin.${machine}`, { what: "", missing: "1", of_pieces: "", by: "", flow: flows[0]?.flow ?? "", off: [],
    point: route.value.query.point ?? "" });
  const [state, setState] = useState({ faults: {}, error: null, sending: false });
  const { values, set } = draft;
  const flow = flows.find((one) => one.flow === values.flow) ?? flows[0];
  const submit = async (event) => {
    event.preventDefault();
    const { faults, body } = readBegin(machine, values, flow, today(summary.value));
    setState({ faults, error: null, sending: !Object.keys(faults).length });
    if (Object.keys(faults).length) return;
    const done = await record("do/trail-begin", body, TRAIL.begin_text(machine, body.what), { form: true });
    if (done.state === "refused") { setState({ faults: {}, error: done.error, sending: false }); return; }
    draft.clear();
    await openLatest(machine);
  };
  const field = (name) => ({ value: values[name], name, fault: state.faults[name], onValue: (typed) => set({ [name]: typed }) });
  return html`<form class="stack" onSubmit=${submit} data-form="trail-begin"><${FaultSummary} faults=${state.faults} /><${Restored} draft=${draft} />
    <${TextField} label=${TRAIL.what} hint=${TRAIL.what_hint} ...${field("what")} />
    <${NumberField} label=${TRAIL.missing} hint=${TRAIL.missing_hint} ...${field("missing")} />
    <${NumberField} label=${TRAIL.of_pieces} ...${field("of_pieces")} />
    <${ChoiceField} label=${TRAIL.point} ...${field("point")} options=${[["", TRAIL.point_none],
      ...start.points.map((point) => [point.no, `${point.no} ${point.name}`])]} />
    <${TextField} label=${TRAIL.by} ...${field("by")} />
    <details><summary>${TRAIL.flow}: ${flow?.name ?? ""}</summary><${RadioField} label=${TRAIL.flow} name="flow" value=${flow?.flow}
      onValue=${(picked) => set({ flow: picked, off: [] })} options=${flows.map((one) => [one.flow, one.name, sourceOf(one)])} /></details>
    ${flow && html`<p class="quiet small">${sourceOf(flow)}</p>`}
    <${Places} flow=${flow} off=${values.off} set=${set} />
    <${Problem} error=${state.error} />
    <button class="main" disabled=${state.sending}>${state.sending ? SAY.recording : TRAIL.begin}</button></form>`;
}

/** The page that begins a trail on a machine. */
export function TrailNewView() {
  const { machine } = route.value.params;
  const load = useLoad(`machines/${encodeURIComponent(machine)}/trail-start`);
  return html`<${Page} title=${TRAIL.begin_title} sub=${load.data && [machine, load.data.machine_name].join(" · ")}
    back=${[href(["aboard", "machines", machine]), shortName(load.data?.machine_name) || TITLE.machine]}>
    <${Loaded} load=${load}>${(start) => html`<${CautionBox} lines=${start.cautions} opening=${true} pieces=${true} /><${Form} key=${machine} start=${inWords(start)} />
      ${!keptSince.value && html`<p><a class="button" target="_blank" rel="noopener"
        href=${paperUrl(`papers/trail.pdf?machine=${encodeURIComponent(machine)}`)}>${TRAIL.blank_paper}</a></p>`}`}<//>
  <//>`;
}
