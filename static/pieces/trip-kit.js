/** The kit against breakdown: what the next money or mass would buy, or the cheapest for a level. */

import { useDraft, useLoad } from "../load.js";
import { parseFigure, showNumber } from "../numbers.js";
import { ofHundred } from "../pictures/protection-curve.js";
import { href } from "../routes.js";
import { useState } from "../vendor/hooks.js";
import { KIT, told } from "../words.js";
import { ChoiceField, FaultSummary, NumberField } from "./fields.js";
import { html } from "./html.js";
import { Loaded } from "./problem.js";
import { KitCurve } from "./trip-pictures.js";

/**
 * Write the question for a kit; faults name their field.
 * @param {object} values what was typed; money and mass stand on top of what is due
 * @param {{cost?: number, mass_kg?: number}} sure what is due takes, which comes first
 */
export function readKit(values, sure = {}) {
  if (values.by === "level") return { faults: {}, query: new URLSearchParams({ level: values.level }) };
  const faults = {};
  const query = new URLSearchParams();
  for (const name of ["cost", "mass_kg"]) {
    if (!values[name].trim()) continue;
    const { value, problem } = parseFigure(values[name]);
    if (problem) faults[name] = problem;
    else if (value < 0) faults[name] = "too-small";
    else query.set(name, String(Math.round((value + Number(sure[name] ?? 0)) * 1000) / 1000));
  }
  if (!query.size && !Object.keys(faults).length) faults.cost = "empty";
  return { faults, query };
}

/** Write what a kit takes on top of what is due. */
export function spentText({ spent, sure }) {
  const [cost, mass_kg] = ["cost", "mass_kg"].map((name) => (spent[name] === null || spent[name] === undefined ? null
    : Number(spent[name]) - Number(sure?.[name] ?? 0)));
  const { currency } = spent;
  return [cost !== null && `${showNumber(cost, { decimals: 2 })} ${currency ?? ""}`.trim(),
    mass_kg > 0 && `${showNumber(mass_kg, { decimals: 1 })} kg`].filter(Boolean).join(", ");
}

/** Whether a trip says what may be spent; else its kit only ends where more would change nothing. */
const isLimited = ({ limits, level }) => Boolean(level) || Object.values(limits ?? {}).some((one) => one !== null);

/** What a kit buys, takes and protects. */
export function KitAnswer({ kit }) {
  return html`<div data-piece="kit" class="stack-tight" role="status">
    <p class="answer">${KIT.reached(ofHundred(kit.start), ofHundred(kit.reached), kit.until)}</p>
    ${kit.buy.length === 0 ? html`<p>${KIT.nothing}</p>` : html`<p>${KIT.takes(spentText(kit))}</p>
      <ul class="lines">${kit.buy.map((one) => html`<li><a class="line" href=${href(["part", one.part])}><span class="top head">
        <span class="name">${showNumber(Number(one.quantity))} × ${one.name}</span><span class="quiet small nowrap">${one.part}</span></span></a></li>`)}</ul>`}
    ${(kit.remarks ?? []).map((text) => html`<p class="quiet">${told(text)}</p>`)}
    <${KitCurve} kit=${kit} unit=${kit.spent?.currency ?? ""} /></div>`;
}

function Asked({ trip, query }) {
  const load = useLoad(`trips/${encodeURIComponent(trip.no)}/kit?${query}`);
  return html`<${Loaded} load=${load}>${(kit) => html`<${KitAnswer} kit=${kit} />`}<//>`;
}

/** @param {{trip: object, kit: object|null}} props kit: the one that the trip's own limits choose */
export function TripKit({ trip, kit }) {
  const draft = useDraft(`kit.${trip.id}`, { by: "money", level: "0.95", cost: "100", mass_kg: "" });
  const { values, set } = draft;
  const [state, setState] = useState({ faults: {}, asked: null });
  const submit = (event) => {
    event.preventDefault();
    const { faults, query } = readKit(values, kit?.sure);
    setState({ faults, asked: Object.keys(faults).length ? null : query.toString() });
  };
  const field = (name) => ({ value: values[name], fault: state.faults[name], name: `kit-${name}`,
    onValue: (typed) => set({ [name]: typed }) });
  return html`<section class="stack" data-piece="kit-finder"><h2>${KIT.title}</h2>
    ${kit && (isLimited(kit) ? html`<${KitAnswer} kit=${kit} />`
      : html`<${KitCurve} kit=${{ ...kit, spent: null }} unit=${kit.spent?.currency ?? ""} />`)}
    <form class="panel stack" onSubmit=${submit} data-form="kit"><p>${KIT.help}</p><${FaultSummary} faults=${state.faults} />
      <${ChoiceField} label=${KIT.by} options=${KIT.ways} ...${field("by")} />
      ${values.by === "level" ? html`<${ChoiceField} label=${KIT.level} options=${KIT.levels} ...${field("level")} />`
        : html`<${NumberField} label=${KIT.cost} ...${field("cost")} /><${NumberField} label=${KIT.mass} unit="kg" ...${field("mass_kg")} />`}
      <button>${KIT.ask}</button></form>
    ${state.asked && html`<${Asked} trip=${trip} query=${state.asked} />`}</section>`;
}
