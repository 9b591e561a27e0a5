/**
 * Protection against money (or mass): the best kits on the way, the one chosen, and the bound
 * that no kit of that price can pass.
 */

import { showNumber } from "../numbers.js";
import { html } from "../pieces/html.js";
import { PICTURE } from "../words.js";
import { linear, pathThrough, roundTicks } from "./scale.js";

const HIGH = 15;        // multiples of the type size
const FOOT = 3;
const LEFT = 3.6;

/**
 * Write a protection [1] as trips of a hundred, finer where it is close to all of them. It is cut,
 * not rounded: nobody may read more safety than there is.
 */
export function ofHundred(share) {
  if (share >= 1 || share <= 0) return share > 0 ? "100" : "0";
  if (share < 0.01) return PICTURE.fewer_than_one;
  const digits = String(share).slice(2).padEnd(3, "0");       // of the digits themselves: 0.57 * 100 is less than 57
  const trips = showNumber(Number(digits.slice(0, 2)));
  return trips === "99" && digits[2] !== "0" ? showNumber(Number(`${trips}.${digits[2]}`)) : trips;
}

/** Give the corners of the stairs: the protection holds until the next piece can be paid. */
export function stairs(curve, along = "cost") {
  return curve.flatMap((point, at) => (at
    ? [[point[along], curve[at - 1].protection], [point[along], point.protection]]
    : [[point[along], point.protection]]));
}

/** Give the rows of the table behind the picture. */
export function protectionTable(kit, unit) {
  return {
    head: PICTURE.protection_head(unit),
    rows: kit.curve.map((point) => [showNumber(point.cost, { decimals: 2 }),
      point.mass_kg === null || point.mass_kg === undefined ? "–" : showNumber(point.mass_kg, { decimals: 1 }),
      ofHundred(point.protection)]),
  };
}

function Grid({ x, y, costs, levels, width, em, unit }) {
  const bottom = (HIGH - FOOT) * em;
  return html`<g>
    ${levels.map((level) => html`<line x1=${LEFT * em} x2=${width} y1=${y(level)} y2=${y(level)}
        stroke="currentColor" stroke-width="1" stroke-dasharray="1.5 4" />
      <text x=${(LEFT - 0.4) * em} y=${y(level) + 0.35 * em} text-anchor="end">${showNumber(level * 100, { decimals: null })}</text>`)}
    ${costs.map((cost) => html`<line x1=${x(cost)} x2=${x(cost)} y1=${bottom} y2=${bottom + 5} stroke="currentColor" />
      <text x=${x(cost)} y=${bottom + 1.3 * em} text-anchor="middle">${showNumber(cost)}</text>`)}
    <line x1=${LEFT * em} x2=${width} y1=${bottom} y2=${bottom} stroke="currentColor" stroke-width="1.6" />
    <text x=${width} y=${bottom + 2.6 * em} text-anchor="end" class="small">${unit}</text></g>`;
}

/**
 * Draw protection against money.
 * @param {{curve: {cost, mass_kg, protection}[], spent?: {cost, mass_kg}, reached, upper_bound}} kit
 * @param {{width?: number, em?: number, unit?: string, along?: "cost"|"mass_kg"}} size
 */
export function protectionPicture(kit, { width = 360, em = 14, unit = "", along = "cost" } = {}) {
  const chosen = kit.spent?.[along] ?? null;
  const most = Math.max(...kit.curve.map((point) => point[along]), chosen ?? 0);
  const { reached, upper_bound: bound } = kit;
  const low = Math.max(0, Math.floor(kit.curve[0].protection * 20) / 20);
  const least = Math.min(...kit.curve.map((point) => point[along]));
  const x = linear(least, most > least ? most : least + 1, LEFT * em, width - 1.4 * em);
  const y = linear(low, 1, (HIGH - FOOT) * em, em);
  const line = stairs(kit.curve, along).map(([at, level]) => [x(at), y(level)]);
  return html`<svg class="picture" role="img" viewBox=${`0 0 ${width} ${HIGH * em}`} font-size=${em}>
    <title>${PICTURE.protection}</title>
    <desc>${PICTURE.protection_text(kit.curve.length, ofHundred(kit.curve[0].protection), ofHundred(kit.curve.at(-1).protection))}</desc>
    <${Grid} x=${x} y=${y} costs=${roundTicks(least, most, 3)} levels=${roundTicks(low, 1, 4)} width=${width} em=${em}
      unit=${unit} />
    <path d=${pathThrough(line)} fill="none" stroke="currentColor" stroke-width="2.4" />
    ${kit.curve.map((point) => html`<circle cx=${x(point[along])} cy=${y(point.protection)} r="3.2" fill="currentColor" />`)}
    ${chosen !== null && bound !== null && bound !== undefined && html`<line x1=${x(chosen) - 0.9 * em} x2=${x(chosen) + 0.9 * em} y1=${y(bound)} y2=${y(bound)}
      stroke="currentColor" stroke-width="2" stroke-dasharray="3 2" />`}
    ${chosen !== null && html`<circle cx=${x(chosen)} cy=${y(reached)} r="8" fill="none" stroke="currentColor" stroke-width="3" />`}
  </svg>`;
}
