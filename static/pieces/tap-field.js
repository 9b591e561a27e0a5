/** A picture on which a place is told by one tap, or by buttons and arrow keys; nothing is dragged. */

import { WHOLE } from "../domain/deck_plan.js";
import { useState } from "../vendor/hooks.js";
import { PLAN } from "../words.js";
import { html } from "./html.js";

/** How far one press moves the cross [thousandths]. */
const STEP = 20;
/** Thousandths in one of a hundred. */
const PERCENT = 10;
const MOVES = [["ArrowLeft", -STEP, 0, "left", "←"], ["ArrowUp", 0, -STEP, "up", "↑"], ["ArrowDown", 0, STEP, "down", "↓"],
  ["ArrowRight", STEP, 0, "right", "→"]];

const within = (value) => Math.min(WHOLE, Math.max(0, Math.round(value)));

/** Give where an event is on its picture [thousandths of its width and height]. */
export function placeOf({ clientX, clientY, currentTarget }) {
  const box = currentTarget.getBoundingClientRect();
  return [within(((clientX - box.left) / box.width) * WHOLE), within(((clientY - box.top) / box.height) * WHOLE)];
}

/** @param {{draw: function, onPlace: function}} props draw makes the picture for the cross, [x, y] or null */
export function TapField({ draw, onPlace }) {
  const [cross, setCross] = useState(null);
  const move = (dx, dy) => setCross((now) => {
    const [x, y] = now ?? [WHOLE / 2, WHOLE / 2];
    return [within(x + dx), within(y + dy)];
  });
  const onKey = (event) => {
    const way = MOVES.find(([key]) => key === event.key);
    if (!way) return;
    event.preventDefault();
    move(way[1], way[2]);
  };
  const tapped = (event) => { setCross(null); onPlace(placeOf(event)); };
  const opened = ({ currentTarget: { open } }) => setCross((now) => (open ? now ?? [WHOLE / 2, WHOLE / 2] : null));
  return html`<div class="tap-picture" data-piece="tap-field" onClick=${tapped}>${draw(cross)}</div>
    <details class="steer" onKeyDown=${onKey} onToggle=${opened}>
      <summary>${PLAN.steer}</summary>
      <p class="small" role="status" data-cross>${cross ? PLAN.cross(...cross.map((part) => Math.round(part / PERCENT))) : ""}</p>
      <div class="buttons even">
      ${MOVES.map(([, dx, dy, word, arrow]) => html`<button type="button" aria-label=${PLAN.way[word]} data-way=${word}
        onClick=${() => move(dx, dy)}>${arrow}</button>`)}
      <button type="button" data-way="set" onClick=${() => onPlace(cross ?? [WHOLE / 2, WHOLE / 2])}>${PLAN.set}</button></div></details>`;
}
