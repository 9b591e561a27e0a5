/** What two people wrote of one place without knowing of each other: one question, whose answer ends the doubt. */

import { showInstant } from "../dates.js";
import { effects } from "../domain/movements.js";
import { isGhost } from "../ghost.js";
import { keeper } from "../kept/kept.js";
import { showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { CARD, COUNTING, MOVE } from "../words.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { MoveForm } from "./move-form.js";

/** Give what a movement did to the pieces of a part that lie in one cell of a place, by the names of `aboard`. */
export const effectHere = (aboard, entry, part, here, cell) => effects(entry).find((one) => one.delta
  && aboard.keptName(one.part) === `part/${part.id}` && one.locker === `locker/${here.locker_id}` && one.lot === (cell.lot ?? ""));

/** Give the movement as far as this phone has a copy of it, and what it did here. */
function movementOf(change, part, here, cell) {
  const aboard = keeper.value?.aboard();
  const entry = aboard?.entries().find((one) => one.id === change);
  return { entry, found: entry && effectHere(aboard, entry, part, here, cell) };
}

/** Tell the movement in words. */
function movementText({ entry, found }, part, here) {
  if (!entry) return COUNTING.one_movement;
  const aboard = keeper.value.aboard();
  const { kind, body, t } = entry;
  const from = kind === "moved" ? aboard.get(body.from)?.no : here.locker;
  const text = found && MOVE.text(kind, showNumber(Math.abs(found.delta) / 1000), nameOf(part), from);
  return [text ?? COUNTING.one_movement, t && showInstant(new Date(t).toISOString())].filter(Boolean).join(", ");
}

/** Say how many lie here after each answer; null where this movement is not the only doubt, or where more than one lot lies. */
export function countsAfter(found, { lots: [cell, another] }) {
  if (!found || another || cell.doubts.length > 1 || cell.rivals?.length) return null;
  return found.delta < 0 ? { before: cell.high, after: cell.low } : { before: cell.low, after: cell.high };
}

function Movement({ change, part, here, cell }) {
  const movement = movementOf(change, part, here, cell);
  const then = countsAfter(movement.found, here);
  const answer = (side) => () => {
    if (isGhost()) return;
    const asked = { change, side, part: nameOf(part), locker: here.locker, ...(cell.lot ? { lot: cell.lot } : {}) };
    record("do/settle", asked, COUNTING.answered(nameOf(part), here.locker));
  };
  return html`<p class="strong">${movementText(movement, part, here)}</p><p>${COUNTING.asks_side}</p>
    <div class="buttons">${COUNTING.sides.map(([side, label]) => html`<button type="button" data-side=${side}
      onClick=${answer(side)}>${label}${then && `: ${CARD.here(showNumber(then[side]))}`}</button>`)}</div>`;
}

/** Two counts: one of them is chosen, which is a count by who chose it, or the pieces are counted anew. */
function Counts({ cell, part, here }) {
  const [isOpen, setOpen] = useState(false);
  const numbers = here.lots.length > 1 || cell.low === cell.high ? []
    : [...new Set([cell.low, cell.quantity, cell.high])].sort((one, other) => one - other);
  const choose = (quantity) => () => {
    if (isGhost()) return;
    record("do/counted", { part: nameOf(part), locker: here.locker, quantity },
      MOVE.text("counted", showNumber(quantity), nameOf(part), here.locker));
  };
  return html`<p>${COUNTING.asks_count}</p>
    <div class="buttons">${numbers.map((one) => html`<button type="button" data-count=${one}
        onClick=${choose(one)}>${COUNTING.it_is(showNumber(one))}</button>`)}
      <button type="button" aria-expanded=${isOpen} onClick=${() => setOpen(!isOpen)}>${COUNTING.anew}</button></div>
    ${isOpen && html`<${MoveForm} kind="counted" part=${part} here=${here} close=${() => setOpen(false)} />`}`;
}

/** @param {{part: object, here: object}} props; `here` is the place with its lots. One doubt is asked about at a time. */
export function Doubt({ part, here }) {
  const cell = here.lots.find((one) => one.doubts?.length || one.rivals?.length);
  if (!cell) return null;
  const [change] = cell.doubts ?? [];
  return html`<div class="panel stack" data-piece="asks">${change
    ? html`<${Movement} key=${change} change=${change} part=${part} here=${here} cell=${cell} />`
    : html`<${Counts} cell=${cell} part=${part} here=${here} />`}</div>`;
}
