/** Says that what is on screen comes from this phone's copy, and what still waits on it. */

import { showDay, showInstant } from "../dates.js";
import { keptSince } from "../kept/answers.js";
import { device, keptActs, progress, putOff } from "../kept/kept.js";
import { href } from "../routes.js";
import { KEPT } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

/** How far a long exchange is, with a way to stop it. */
function Progress({ have, of, left }) {
  return html`<div class="small panel" data-piece="progress"><p role="status">${left ? KEPT.sending_left(left)
    : of ? KEPT.fetched(have, of) : KEPT.fetched_so_far(have)}</p>
    <button type="button" onClick=${putOff}>${KEPT.put_off}</button></div>`;
}

/** The copy's bar; nothing while the boat's computer answers and nothing waits. */
export function KeptBar() {
  const waiting = keptActs.value.filter((one) => one.as === "waiting").length;
  const since = keptSince.value;
  if (progress.value) return html`<${Progress} ...${progress.value} />`;
  if (!since) return null;
  const until = device.value?.certificate_until;
  const isOver = until && until < new Date().toISOString().slice(0, 10);
  return html`<p class="small panel" role="status" data-piece="kept-bar"><${Shape} name="triangle" />${" "}
    ${KEPT.silent(location.host, showInstant(new Date(since).toISOString()))}
    ${isOver && html` <span data-certificate="over">${KEPT.certificate_over(showDay(until))}</span>`}
    ${waiting > 0 && html` <a href=${href(["aboard", "phone"])}>${KEPT.waits(waiting)}</a>`}</p>`;
}
