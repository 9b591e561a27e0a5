/** Says that an answer is from the phone's own copy, and of which day the copy is. */

import { showDay } from "../dates.js";
import { FIT } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

/** @param {{answer: {as_of?: string}|null, judged?: boolean}} props judged: the phone did the check */
export function FromCopy({ answer, judged }) {
  if (!answer?.as_of) return null;
  const day = showDay(answer.as_of);
  return html`<div class="problem" role="status" data-piece="from-copy">
    <p class="strong"><${Shape} name="triangle" /> ${FIT.from_copy(day)}</p>
    <p>${judged ? FIT.judged_here : FIT.copy_counts(day)}</p></div>`;
}
