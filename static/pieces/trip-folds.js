/** What not every trip needs, folded away; beside each heading what stands in it. */

import { showNumber } from "../numbers.js";
import { useRef } from "../vendor/hooks.js";
import { TRIP } from "../words.js";
import { html } from "./html.js";
import { nameOf, shortName } from "./lines.js";
import { isSame } from "./trip-read.js";

const figure = (text) => Number(String(text ?? "").replace(",", ".")) || 0;
const list = (...texts) => texts.filter(Boolean).join(", ");
const PARTS = { legs: ["legs"], anchor: ["anchor"], energy: ["energy"], water: ["water"], stops: ["stops"],
  limits: ["limits", "protection", "fuel"] };

function legsTold(legs) {
  if (!legs.length) return "";
  const miles = legs.reduce((sum, leg) => sum + figure(leg.distance_nm), 0);
  return list(TRIP.legs_told(legs.length), miles && `${showNumber(miles)} nm`);
}

/** Say in a few words what stands in each part of the form; an empty text where nothing does. */
export function foldsTold(values, machines) {
  const called = (no) => shortName(machines.find((one) => nameOf(one) === no)?.name ?? no);
  const { legs, anchor, energy, water, stops, limits, protection, fuel } = values;
  return {
    legs: legsTold(legs),
    anchor: anchor.days ? `${anchor.days} ${TRIP.days_unit}` : "",
    energy: energy.how ? called(energy.machine) : "",
    water: list(water.crew && TRIP.crew_told(figure(water.crew)), water.machine && called(water.machine)),
    stops: stops.length ? TRIP.stops_told(stops.length) : "",
    limits: list(protection.level && TRIP.level_told, limits.cost, limits.mass_kg && `${limits.mass_kg} kg`,
      fuel.tank_l && `${fuel.tank_l} L`),
  };
}

/**
 * A part of the form. What a new trip has as the last one had it stays folded, so that the dates
 * and the button are near each other; it opens for what is typed, changed or wrong.
 * @param {{name: string, title: string, told: object, values: object, initial: object, faults: object, isNew: boolean}} props
 */
export function Folded({ name, title, told, values, initial, faults, isNew, help, children }) {
  const open = useRef(false);         // once open it does not fold under the hand
  const asBefore = isNew && PARTS[name].every((one) => isSame(values[one], initial[one]));
  const isWrong = Object.keys(faults).some((fault) => PARTS[name].includes(fault.split(".")[0]));
  open.current ||= isWrong || (Boolean(told[name]) && !asBefore);
  return html`<details open=${open.current} data-fold=${name}>
    <summary><span>${title}${told[name] && html`<span class="quiet">: ${told[name]}</span>`}</span></summary>
    <div class="stack">${help && html`<p class="quiet">${help}</p>`}${children}</div></details>`;
}
