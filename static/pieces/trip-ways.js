/** What can still be done about a line that comes too late: order anyway, a stand-in, go later, go without. */

import { showDay } from "../dates.js";
import { isSkipper } from "../kept/kept.js";
import { href } from "../routes.js";
import { PROOF, WAYS, wordFor } from "../words.js";
import { useState } from "../vendor/hooks.js";
import { AcceptForm } from "./accept-form.js";
import { html } from "./html.js";
import { WantButton } from "./orders.js";
import { ForSkipper } from "./who-may.js";

function StandIns({ line }) {
  if (!line.stand_ins?.length) {
    return html`<p><a href=${href(["part", line.part])}>${WAYS.look_for_stand_in}</a></p>`;
  }
  return html`<ul class="plain">${line.stand_ins.map((one) => html`<li><a href=${href(["part", one.part])}>
    ${one.name}</a>, ${wordFor(PROOF, one.proof)}</li>`)}</ul>`;
}

/** @param {{line: object, restock: object}} props */
export function TripWays({ line, restock }) {
  const [open, setOpen] = useState(false);
  const { trip, earliest_departure: earliest } = restock;
  return html`<div data-piece="ways" class="stack-tight">
    <button type="button" aria-expanded=${open} onClick=${() => setOpen(!open)}>${WAYS.what_now}</button>
    ${open && html`<div class="panel stack">
      <div><p class="strong">${WAYS.anyway}</p><p>${WAYS.anyway_help(line.lead_days)}</p>
        <${WantButton} line=${line} trip=${trip} /></div>
      <div><p class="strong">${WAYS.stand_in}</p><${StandIns} line=${line} /></div>
      ${earliest && isSkipper() && html`<div><p class="strong">${WAYS.later}</p>
        <p><a href=${href(["restock", trip.no, "edit"])}>${WAYS.later_help(showDay(earliest))}</a></p></div>`}
      <${ForSkipper}><div><p class="strong">${WAYS.without}</p><${AcceptForm} line=${line} trip=${trip} /></div><//></div>`}</div>`;
}
