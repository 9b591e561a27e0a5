/** Harbours on the way where parts are sold: the day, the name, and what can be had there. */

import { TRIP } from "../words.js";
import { ChoiceField, DayField, TextField, TickField } from "./fields.js";
import { html } from "./html.js";
import { NO_STOP } from "./trip-values.js";

function Stop({ stop, at, faults, put, remove }) {
  const field = (name) => ({ value: stop[name], fault: faults[`stops.${at}.${name}`], name: `stop-${at}-${name}`,
    onValue: (typed) => put({ [name]: typed }) });
  return html`<fieldset class="panel stack" data-stop=${at}><legend class="visually-hidden">${TRIP.stop(at + 1)}</legend>
    <p class="strong" aria-hidden="true">${TRIP.stop(at + 1)}</p>
    <${TextField} label=${TRIP.stop_name} ...${field("name")} />
    <${DayField} label=${TRIP.stop_day} ...${field("day")} />
    <${ChoiceField} label=${TRIP.sells} options=${TRIP.sells_what} ...${field("sells")} />
    ${stop.sells === "some" && html`<${TextField} label=${TRIP.sellers} hint=${TRIP.sellers_help} ...${field("sellers")} />
      <${TextField} label=${TRIP.parts} hint=${TRIP.parts_help} ...${field("parts")} autocapitalize="characters" />
      <${TextField} label=${TRIP.kinds} hint=${TRIP.kinds_help} ...${field("kinds")} autocapitalize="none" />`}
    <${TickField} label=${TRIP.bunkers} name=${`stop-${at}-bunkers`} checked=${stop.bunkers} onValue=${(bunkers) => put({ bunkers })} />
    <div><button type="button" class="plain" onClick=${remove}>${TRIP.remove_stop(at + 1)}</button></div></fieldset>`;
}

/** @param {{values, faults, set}} props */
export function StopFields({ values, faults, set }) {
  const { stops } = values;
  const put = (at, facts) => set({ stops: stops.map((stop, place) => (place === at ? { ...stop, ...facts } : stop)) });
  const add = () => set({ stops: [...stops, { ...NO_STOP, day: { ...NO_STOP.day, month: values.leave.month, year: values.leave.year } }] });
  return html`${stops.map((stop, at) => html`<${Stop} key=${at} stop=${stop} at=${at} faults=${faults}
      put=${(facts) => put(at, facts)} remove=${() => set({ stops: stops.filter((_, place) => place !== at) })} />`)}
    <div><button type="button" onClick=${add}>${TRIP.add_stop}</button></div>`;
}
