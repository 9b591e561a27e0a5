/** `1.912` may be 1912 or 1.912: ask instead of guessing. */

import { showNumber, twoReadings } from "../numbers.js";
import { WORK } from "../words.js";
import { html } from "./html.js";

/** Whether a text has to be asked about: not once more what was picked here (`meant`). */
export const asksOf = ({ hours, meant }, last) => (hours === meant ? null : twoReadings(hours, last));

/** @param {{choices: number[]|null, onPick: function}} props onPick gets what then stands in the form: {hours, meant} */
export function TwoReadings({ choices, onPick }) {
  if (!choices) return null;
  return html`<div class="stack-tight" role="alert"><p class="strong">${WORK.two_readings}</p>
    <div class="buttons">${choices.map((hours) => html`<button type="button"
      onClick=${() => onPick({ hours: showNumber(hours), meant: showNumber(hours) })}>${showNumber(hours)} h</button>`)}</div></div>`;
}
