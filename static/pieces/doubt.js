/** What two people wrote of one place without knowing of each other: one question, whose answer ends the doubt. */

import { showInstant } from "../dates.js";
import { effects } from "../domain/movements.js";
import { isGhost } from "../ghost.js";
import { keeper } from "../kept/kept.js";
import { showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { useState } from "../vendor/hooks.js";
import { COUNTING, LATE, MOVE } from "../words.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { MoveForm } from "./move-form.js";

/** Tell the movement in words, as far as this phone has a copy of it. */
function movementText(change, part, here) {
  const aboard = keeper.value?.aboard();
  const entry = aboard?.entries().find((one) => one.id === change);
  if (!entry) return COUNTING.one_movement;
  const { kind, body, t } = entry;
  const found = effects(entry).find((one) => one.delta && one.locker === `locker/${here.locker_id}`);
  const from = kind === "moved" ? aboard.get(body.from)?.no : here.locker;
  const text = found && MOVE.text(kind, showNumber(Math.abs(found.delta) / 1000), nameOf(part), from);
  return [text ?? COUNTING.one_movement, t && showInstant(new Date(t).toISOString())].filter(Boolean).join(", ");
}

function Movement({ change, part, here }) {
  const answer = (side) => () => {
    if (isGhost()) return;
    record("do/settle", { change, side }, COUNTING.answered(nameOf(part), here.locker));
  };
  return html`<p class="strong">${movementText(change, part, here)}</p><p>${COUNTING.asks_side}</p>
    <div class="buttons">${LATE.sides.map(([side, label]) => html`<button type="button" data-side=${side}
      onClick=${answer(side)}>${label}</button>`)}</div>`;
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
    ? html`<${Movement} key=${change} change=${change} part=${part} here=${here} />`
    : html`<${Counts} cell=${cell} part=${part} here=${here} />`}</div>`;
}
