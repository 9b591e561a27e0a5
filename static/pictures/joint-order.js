/** Where the fasteners of a joint sit, each with its turn: a ring seen from outside, or rows. */

import { html } from "../pieces/html.js";
import { JOINT } from "../words.js";
import { round } from "./scale.js";

/** Give the place of each fastener in a field of 1 by 1, by number, with its turn. */
export function placesOf({ order, pattern, rows }) {
  const count = order.length;
  const turnOf = new Map(order.map((number, at) => [number, at + 1]));
  return Array.from({ length: count }, (_, at) => {
    const number = at + 1;
    if (pattern === "middle-out" || pattern === "in-turn") {
      const lines = pattern === "middle-out" ? rows || 1 : 1;
      const columns = count / lines;
      return { number, turn: turnOf.get(number), x: round(((at % columns) + 0.5) / columns),
        y: round((Math.floor(at / columns) + 0.5) / lines) };
    }
    const angle = (2 * Math.PI * at) / count;
    return { number, turn: turnOf.get(number), x: round(0.5 + 0.42 * Math.sin(angle)), y: round(0.5 - 0.42 * Math.cos(angle)) };
  });
}

/** The table behind the picture. */
export const jointTable = (joint) => ({ head: [JOINT.turn_head, JOINT.place[joint.pattern ?? "cross"]],
  rows: joint.order.map((number, at) => [String(at + 1), String(number)]) });

/** Draw the fasteners with their turns. */
export function jointOrder(joint, { width, em }) {
  const places = placesOf(joint);
  const isRing = (joint.pattern ?? "cross") === "cross";
  const lines = isRing ? 0 : Math.max(1, joint.pattern === "middle-out" ? joint.rows || 1 : 1);
  const wide = isRing ? Math.min(width, 20 * em) : width;
  const high = isRing ? wide : lines * Math.min(4 * em, wide / 4);
  const around = isRing ? (Math.PI * 0.84 * wide) / places.length : (wide * lines) / places.length;
  const radius = Math.max(0.7 * em, Math.min(1.25 * em, around * 0.45));
  return html`<svg class="plot" width=${wide} height=${high} viewBox=${`0 0 ${wide} ${high}`} role="img"
    aria-label=${JOINT.order_picture(places.length)}>
    ${places.map(({ number, turn, x, y }) => html`<g key=${number} data-place=${number} data-turn=${turn}>
      <circle cx=${round(x * wide)} cy=${round(y * high)} r=${round(radius)} fill="none" stroke="currentColor" stroke-width="2" />
      <text x=${round(x * wide)} y=${round(y * high)} text-anchor="middle" dominant-baseline="central"
        font-size=${round(radius * 1.05)} font-weight="700" fill="currentColor">${turn}</text></g>`)}</svg>`;
}
