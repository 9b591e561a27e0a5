/** Says of what only the boat's computer can do that it does not answer now. */

import { keptSince } from "../kept/answers.js";
import { KEPT } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

/** A line on top of the place; nothing while she answers. */
export function NeedsHer() {
  if (!keptSince.value) return null;
  return html`<p class="panel" role="status" data-piece="needs-her"><${Shape} name="triangle" /> ${KEPT.needs_her}</p>`;
}
