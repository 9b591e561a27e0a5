/** Charging in a trip: what is used on a day, and what brings it back. */

import { TRIP } from "../words.js";
import { ChoiceField, Fault, NumberField, TextField, TickField } from "./fields.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { NO_LOAD } from "./trip-values.js";

function Load({ load, at, faults, put, remove }) {
  const field = (name) => ({ value: load[name], fault: faults[`energy.loads.${at}.${name}`], name: `load-${at}-${name}`,
    onValue: (typed) => put({ [name]: typed }) });
  return html`<div class="panel stack" data-load=${at}><${TextField} label=${TRIP.load_name} ...${field("name")} />
    <div class="pair"><${NumberField} label=${TRIP.watts} unit="W" ...${field("watts")} />
      <${NumberField} label=${TRIP.hours_a_day} unit="h" ...${field("hours_per_day")} /></div>
    <${TickField} label=${TRIP.ac} name=${`load-${at}-ac`} checked=${load.ac} onValue=${(ac) => put({ ac })} />
    <div><button type="button" class="plain" onClick=${remove}>${TRIP.remove_load(load.name || at + 1)}</button></div></div>`;
}

function Loads({ energy, faults, put }) {
  const { loads } = energy;
  const change = (at, facts) => put({ loads: loads.map((load, place) => (place === at ? { ...load, ...facts } : load)) });
  return html`<fieldset class="stack"><legend>${TRIP.loads}</legend><${Fault} code=${faults["energy.loads"]} />
    ${loads.map((load, at) => html`<${Load} key=${at} load=${load} at=${at} faults=${faults}
      put=${(facts) => change(at, facts)} remove=${() => put({ loads: loads.filter((_, place) => place !== at) })} />`)}
    <div><button type="button" onClick=${() => put({ loads: [...loads, NO_LOAD] })}>${TRIP.add_load}</button></div></fieldset>`;
}

/** @param {{machines, values, faults, set}} props */
export function EnergyFields({ machines, values, faults, set }) {
  const { energy } = values;
  const put = (facts) => set({ energy: { ...energy, ...facts } });
  const field = (name) => ({ value: energy[name], fault: faults[`energy.${name}`], name: `energy-${name}`,
    onValue: (typed) => put({ [name]: typed }) });
  return html`<${ChoiceField} label=${TRIP.charging_by} ...${field("how")} options=${TRIP.charging_ways} />
    ${energy.how && html`<${ChoiceField} label=${TRIP.charges_with} ...${field("machine")}
      options=${[["", ""], ...machines.map((one) => [nameOf(one), one.name])]} />`}
    ${energy.how === "plain" && html`<div class="pair"><${NumberField} label=${TRIP.use} unit="kWh" ...${field("use_kwh")} />
      <${NumberField} label=${TRIP.charger} unit="kW" ...${field("charger_kw")} /></div>`}
    ${energy.how === "loads" && html`<${Loads} energy=${energy} faults=${faults} put=${put} />
      <div class="pair"><${NumberField} label=${TRIP.solar} unit="W" ...${field("peak_w")} />
        <${NumberField} label=${TRIP.sun} unit="h" ...${field("sun_hours")} /></div>
      <div class="pair"><${NumberField} label=${TRIP.volts} unit="V" ...${field("volts")} />
        <${NumberField} label=${TRIP.ah} unit="Ah" ...${field("ah")} />
        <${NumberField} label=${TRIP.from_charge} unit="%" ...${field("from")} />
        <${NumberField} label=${TRIP.to_charge} unit="%" ...${field("to")} /></div>
      <${NumberField} label=${TRIP.net_a} unit="A" ...${field("net_a")} />`}
    ${energy.how && (Array.isArray(energy.raw?.generator?.fuel_l_per_h)
      ? html`<p>${TRIP.generator_burns}: ${TRIP.generator_table}</p>`
      : html`<${NumberField} label=${TRIP.generator_burns} unit="L/h" ...${field("fuel_l_per_h")} />`)}`;
}
