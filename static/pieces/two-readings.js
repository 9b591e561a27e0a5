/** `1.912` may be 1912 or 1.912: ask instead of guessing. */

import { showNumber } from "../numbers.js";
import { WORK } from "../words.js";
import { html } from "./html.js";

/** @param {{choices: number[]|null, onPick: function}} props */
export function TwoReadings({ choices, onPick }) {
  if (!choices) return null;
  return html`<div class="stack-tight" role="alert"><p class="strong">${WORK.two_readings}</p>
    <div class="buttons">${choices.map((hours) => html`<button type="button"
      onClick=${() => onPick(showNumber(hours))}>${showNumber(hours)} h</button>`)}</div></div>`;
}
