/** Says that what is on screen comes from this phone's copy, and what still waits on it. */

import { showDay, showInstant } from "../dates.js";
import { keptSince } from "../kept/answers.js";
import { device, keptActs } from "../kept/kept.js";
import { href } from "../routes.js";
import { KEPT } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

/** The copy's bar; nothing while the boat's computer answers and nothing waits. */
export function KeptBar() {
  const waiting = keptActs.value.filter((one) => one.as === "waiting").length;
  const since = keptSince.value;
  if (!since) return null;
  const until = device.value?.certificate_until;
  const isOver = until && until < new Date().toISOString().slice(0, 10);
  return html`<p class="small panel" role="status" data-piece="kept-bar"><${Shape} name="triangle" />${" "}
    ${KEPT.silent(location.host, showInstant(new Date(since).toISOString()))}
    ${isOver && html` <span data-certificate="over">${KEPT.certificate_over(showDay(until))}</span>`}
    ${waiting > 0 && html` <a href=${href(["aboard", "phone"])}>${KEPT.waits(waiting)}</a>`}</p>`;
}
