/** The rarer movements of a part, and the way to its page. */

import { href } from "../routes.js";
import { route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, MOVE } from "../words.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { MoveForm } from "./move-form.js";

const KINDS = ["put", "moved", "counted", "landed", "lent"];

/** @param {{part: object, here: object|null, close: function}} props */
export function More({ part, here, close }) {
  const [kind, setKind] = useState(here ? null : "put");
  return html`<div class="panel stack" data-piece="more">
    <div class="buttons">${KINDS.map((one) => html`<button type="button"
      aria-expanded=${kind === one} onClick=${() => setKind(kind === one ? null : one)}>
      ${MOVE[one]}</button>`)}</div>
    ${kind && html`<${MoveForm} key=${kind} kind=${kind} part=${part} here=${here} close=${close} />`}
    ${route.value.view !== "part" && html`<p><a class="button" href=${href(["part", nameOf(part)])}>
      ${ABOARD.fits}, ${ABOARD.number}, ${ABOARD.price}</a></p>`}
  </div>`;
}
