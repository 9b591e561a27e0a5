/** The rarer movements of a part, and the way to its page. */

import { href } from "../routes.js";
import { route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, BATCH, COUNTING, MOVE } from "../words.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { MoveForm } from "./move-form.js";
import { record } from "../outbox.js";

const KINDS = ["took", "put", "moved", "counted", "landed", "lent"];

/** @param {{part: object, here: object|null, close: function}} props */
export function More({ part, here, close }) {
  const [kind, setKind] = useState(here ? null : "put");
  const marks = [...new Set((part.where ?? []).map((place) => place.batch).filter(Boolean))];
  const doubt = () => {
    close();
    record("do/doubt", { part: nameOf(part), locker: here.locker }, COUNTING.doubt_text(nameOf(part), here.locker));
  };
  return html`<div class="panel stack" data-piece="more">
    <div class="buttons">${KINDS.map((one) => html`<button type="button"
      aria-expanded=${kind === one} onClick=${() => setKind(kind === one ? null : one)}>
      ${MOVE[one]}</button>`)}
      ${here && !here.doubted && html`<button type="button" data-do="doubt" onClick=${doubt}>${COUNTING.doubt}</button>`}</div>
    ${marks.map((mark) => html`<p key=${mark}><a class="button" href=${href(["find", "batch", mark])}>${BATCH.link(mark)}</a></p>`)}
    ${kind && html`<${MoveForm} key=${kind} kind=${kind} part=${part} here=${here} close=${close} />`}
    ${route.value.view !== "part" && html`<p><a class="button" href=${href(["part", nameOf(part)])}>
      ${ABOARD.fits}, ${ABOARD.number}, ${ABOARD.price}</a></p>`}
  </div>`;
}
