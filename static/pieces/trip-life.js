/** Days at anchor, crew and water: what runs besides being under way. */

import { TRIP } from "../words.js";
import { ChoiceField, NumberField } from "./fields.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { NO_RUN } from "./trip-values.js";

const choices = (machines) => [["", ""], ...machines.map((one) => [nameOf(one), one.name])];

/** Days at anchor, and what runs then. */
export function AnchorFields({ machines, values, faults, set }) {
  const { anchor } = values;
  const put = (facts) => set({ anchor: { ...anchor, ...facts } });
  const change = (at, facts) => put({ run: anchor.run.map((one, place) => (place === at ? { ...one, ...facts } : one)) });
  const field = (at, name) => ({ value: anchor.run[at][name], fault: faults[`anchor.run.${at}.${name}`], name: `anchor-${at}-${name}`,
    onValue: (typed) => change(at, { [name]: typed }) });
  return html`<${NumberField} label=${TRIP.anchor_days} unit=${TRIP.days_unit} name="anchor-days" value=${anchor.days}
      fault=${faults["anchor.days"]} onValue=${(days) => put({ days })} />
    ${anchor.run.map((_, at) => html`<div class="panel stack" key=${at}>
      <${ChoiceField} label=${TRIP.runs} ...${field(at, "machine")} options=${choices(machines)} />
      <${NumberField} label=${TRIP.hours_a_day} unit="h" ...${field(at, "hours_per_day")} />
      <div><button type="button" class="plain" onClick=${() => put({ run: anchor.run.filter((__, place) => place !== at) })}>
        ${TRIP.remove_run}</button></div></div>`)}
    <div><button type="button" onClick=${() => put({ run: [...anchor.run, NO_RUN] })}>${TRIP.add_run}</button></div>`;
}

/** Crew, and the machine that makes water for them. */
export function WaterFields({ machines, values, faults, set }) {
  const { water } = values;
  const field = (name) => ({ value: water[name], fault: faults[`water.${name}`], name: `water-${name}`,
    onValue: (typed) => set({ water: { ...water, [name]: typed } }) });
  return html`<${NumberField} label=${TRIP.crew} ...${field("crew")} />
    <${ChoiceField} label=${TRIP.makes_water} ...${field("machine")} options=${choices(machines)} />
    ${water.machine && html`<div class="pair"><${NumberField} label=${TRIP.litres} unit="L" ...${field("litres_per_person")} />
      <${NumberField} label=${TRIP.output} unit="L/h" ...${field("output_l_per_h")} /></div>`}`;
}
