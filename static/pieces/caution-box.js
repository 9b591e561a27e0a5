/** Cautions on top of work that can hurt someone; they cannot be switched off. */

import { CAUTION_WORD, DEFERRAL, cautionLines } from "../words.js";
import { html } from "./html.js";
import { Sign } from "./shapes.js";

/** @param {{lines: {mark: string, text: string}[], opening?: boolean, pieces?: boolean}} props */
export function CautionBox({ lines, opening = false, pieces = false }) {
  const sign = { word: CAUTION_WORD, shape: "triangle", role: "watch" };
  return html`<section class="caution" data-piece="caution"><${Sign} sign=${sign} />
    ${cautionLines(lines, { opening, pieces }).map(({ mark, text }) => html`<p>
      <span class="strong">${mark}:</span>${" "}${text}</p>`)}
    <p>${DEFERRAL}</p></section>`;
}
