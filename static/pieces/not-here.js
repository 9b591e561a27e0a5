/** The thing does not lie where it should: record that, and say where to look next. */

import { record } from "../outbox.js";
import { href } from "../routes.js";
import { useState } from "../vendor/hooks.js";
import { CARD, MOVE } from "../words.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { MoveForm } from "./move-form.js";

/** One tap never sets a count: the second one says that it is really 0. */
export function NotHere({ part, here, places, close }) {
  const [other, setOther] = useState(false);
  const none = () => {
    close();
    const body = { part: nameOf(part), locker: here.locker, quantity: 0 };
    record("do/counted", body, MOVE.text("counted", 0, nameOf(part), here.locker));
  };
  const elsewhere = places.filter((place) => place !== here && place.quantity > 0);
  return html`<div class="panel stack" data-piece="not-here">
    <p class="strong">${CARD.nothing_there(here.locker)}</p>
    <div class="buttons">
      <button type="button" onClick=${none}>${CARD.record_none(here.locker)}</button>
      <button type="button" onClick=${() => setOther(!other)}>${CARD.other_number}</button>
    </div>
    ${elsewhere.length > 0 && html`<div class="buttons">${elsewhere.map((place) => html`
      <a class="button" href=${href(["part", nameOf(part)], { at: place.locker })}>
        ${CARD.look_in(place.locker)}</a>`)}</div>`}
    ${other && html`<${MoveForm} kind="counted" part=${part} here=${here} close=${close} />`}
  </div>`;
}
