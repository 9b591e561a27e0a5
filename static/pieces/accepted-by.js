/** Who goes without a part, since when and why, with the way to take it back. */

import { showDay } from "../dates.js";
import { record } from "../outbox.js";
import { WAYS } from "../words.js";
import { html } from "./html.js";
import { ForSkipper } from "./who-may.js";

/** @param {{line: object, trip: object}} props */
export function AcceptedBy({ line, trip }) {
  const found = line.accepted ?? {};
  const takeBack = () => record("do/accept", { trip: trip.no, part: line.part, taken_back: true }, WAYS.taken_back_text(line.part));
  return html`<p>${WAYS.accepted_by(found.by || WAYS.nobody_named, showDay(found.on))}${found.note ? `: ${found.note}` : ""}</p>
    <${ForSkipper}><div><button type="button" onClick=${takeBack}>${WAYS.take_back}</button></div><//>`;
}
