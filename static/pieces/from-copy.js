/** Says that an answer is from the phone's own copy, and of which day the copy is. */

import { showDay } from "../dates.js";
import { FIT } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

/** @param {{answer: {as_of?: string}|null, judged?: boolean}} props judged: the phone did the check */
export function FromCopy({ answer, judged }) {
  if (!answer?.as_of) return null;
  return html`<p class="panel small" role="status" data-piece="from-copy">
    <${Shape} name="triangle" /> ${FIT.from_copy(showDay(answer.as_of))}${" "}
    ${judged ? FIT.judged_here : FIT.copy_counts}</p>`;
}
