/** The place of a fit point: as it is recorded, as a form holds it, as it is written down. */

import { parseNumber } from "../numbers.js";
import { SPOT, toldFit } from "../words.js";
import { html } from "./html.js";

const FLAGS = ["wet", "petrol_space", "below_waterline", "above_waterline"];
const AMOUNTS = ["temperature_c", "engine_speed_rpm", "drive_pulley_mm", "driven_pulley_mm", "slip", "wire_mm2", "wire_insulation_c"];
const WORDS = ["medium", "attitude", "driven_by"];

/** Give the words for one field of a recorded place. */
export function spotText(name, value) {
  if (typeof value === "boolean") return SPOT.yes_no[value ? 1 : 2][1];
  const text = SPOT.words[value] ?? toldFit(String(value));
  return SPOT.units[name] ? `${text} ${SPOT.units[name]}` : text;
}

/** What stands in the form at first. */
export function valuesOfSpot(place) {
  const rotation = typeof place.rotation === "object" ? place.rotation : { value: place.rotation };
  const text = (value) => String(value ?? "");
  return {
    ...Object.fromEntries(FLAGS.map((name) => [name, place[name] === true ? "yes" : place[name] === false ? "no" : ""])),
    ...Object.fromEntries([...WORDS, ...AMOUNTS, "mating_metal"].map((name) => [name, text(place[name])])),
    rotation: text(rotation?.value), seen_from: text(rotation?.seen_from),
  };
}

/** Put the place together from what was typed; numbers as text, so that every device reads the same. */
export function readSpot(values) {
  const [faults, place] = [{}, {}];
  for (const name of FLAGS) if (values[name]) place[name] = values[name] === "yes";
  for (const name of [...WORDS, "mating_metal"]) if (values[name].trim()) place[name] = values[name].trim();
  for (const name of AMOUNTS) {
    const { value, problem } = parseNumber(values[name]);
    if (problem && problem !== "empty") faults[name] = problem;
    else if (!problem) place[name] = String(value);
  }
  if (values.seen_from && !values.rotation) faults.rotation = "empty";
  if (values.rotation) {
    place.rotation = { value: values.rotation, ...(values.seen_from && { seen_from: values.seen_from }) };
  }
  return { faults, place };
}

/** What is recorded of a place, in the order of the form. */
export function Spot({ place }) {
  const values = valuesOfSpot(place ?? {});
  const told = SPOT.groups.flatMap(([, names]) => names).filter((name) => values[name]);
  if (!told.length) return html`<p>${SPOT.none}</p>`;
  return html`<dl class="facts">${told.map((name) => html`<dt>${SPOT.fields[name]}</dt>
    <dd>${spotText(name, FLAGS.includes(name) ? values[name] === "yes" : values[name])}</dd>`)}</dl>`;
}
