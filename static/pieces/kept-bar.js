/** Says that what is on screen comes from this phone's copy, and what still waits on it. */

import { showInstant } from "../dates.js";
import { keptSince } from "../kept/answers.js";
import { keptChanges } from "../kept/kept.js";
import { href } from "../routes.js";
import { KEPT } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

/** The copy's bar; nothing while the boat's computer answers and nothing waits. */
export function KeptBar() {
  const waiting = keptChanges.value.filter((one) => one.as === "waiting").length;
  const since = keptSince.value;
  if (!since) return null;
  return html`<p class="small panel" role="status" data-piece="kept-bar"><${Shape} name="triangle" />${" "}
    ${KEPT.silent(showInstant(new Date(since).toISOString()))}
    ${waiting > 0 && html` <a href=${href(["aboard", "phone"])}>${KEPT.waits(waiting)}</a>`}</p>`;
}
