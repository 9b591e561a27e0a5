/** The legs of a trip: miles and speed, or hours; how much of it under engine, which machines run. */

import { TRIP } from "../words.js";
import { DayField, Fault, NumberField, TickField } from "./fields.js";
import { html } from "./html.js";
import { nameOf, shortName } from "./lines.js";
import { NO_LEG } from "./trip-values.js";

function Leg({ leg, at, machines, faults, put, remove }) {
  const field = (name) => ({ value: leg[name], fault: faults[`legs.${at}.${name}`], name: `leg-${at}-${name}`,
    onValue: (typed) => put({ [name]: typed }) });
  const run = (no, on) => put({ machines: on ? [...leg.machines, no] : leg.machines.filter((one) => one !== no) });
  return html`<fieldset class="panel stack" data-leg=${at}><legend class="visually-hidden">${TRIP.leg(at + 1)}</legend>
    <p class="strong" aria-hidden="true">${TRIP.leg(at + 1)}</p>
    <div class="pair"><${NumberField} label=${TRIP.distance} unit="nm" ...${field("distance_nm")} />
      <${NumberField} label=${TRIP.speed} unit="kn" ...${field("speed_kn")} /></div>
    <${NumberField} label=${TRIP.leg_hours} hint=${TRIP.leg_hours_help} unit="h" ...${field("hours")} />
    ${!leg.hours?.trim() && html`<${NumberField} label=${TRIP.motor} unit="%" ...${field("motor")} />`}
    <fieldset><legend>${TRIP.machines}</legend><${Fault} code=${faults[`legs.${at}.machines`]} />
      ${machines.map((one) => html`<${TickField} label=${shortName(one.name)} name=${`leg-${at}-${nameOf(one)}`}
        checked=${leg.machines.includes(nameOf(one))} onValue=${(on) => run(nameOf(one), on)} />`)}</fieldset>
    <${DayField} label=${TRIP.leg_day} ...${field("day")} />
    <div><button type="button" class="plain" onClick=${remove}>${TRIP.remove_leg(at + 1)}</button></div></fieldset>`;
}

/** @param {{machines, values, faults, set}} props */
export function LegFields({ machines, values, faults, set }) {
  const { legs } = values;
  const put = (at, facts) => set({ legs: legs.map((leg, place) => (place === at ? { ...leg, ...facts } : leg)) });
  const add = () => set({ legs: [...legs, { ...NO_LEG, machines: legs.at(-1)?.machines ?? [] }] });
  return html`${legs.map((leg, at) => html`<${Leg} key=${at} leg=${leg} at=${at} machines=${machines} faults=${faults}
      put=${(facts) => put(at, facts)} remove=${() => set({ legs: legs.filter((_, place) => place !== at) })} />`)}
    <div><button type="button" onClick=${add}>${TRIP.add_leg}</button></div>`;
}
