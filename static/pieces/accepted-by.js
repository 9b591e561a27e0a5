/** Who goes without a part, since when and why, with the way to take it back. */

import { showDay } from "../dates.js";
import { record } from "../outbox.js";
import { WAYS } from "../words.js";
import { html } from "./html.js";

/** @param {{line: object}} props */
export function AcceptedBy({ line }) {
  const found = line.accepted ?? {};
  const text = WAYS.taken_back_text(line.part);
  return html`<p>${WAYS.accepted_by(found.by || WAYS.nobody_named, showDay(found.on))}${found.note ? `: ${found.note}` : ""}</p>
    ${found.change && html`<div><button type="button" onClick=${() => record("do/undo", { change: found.change }, text)}>
      ${WAYS.take_back}</button></div>`}`;
}
