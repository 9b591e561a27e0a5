/** The plan of one deck, bow upwards: its lines and the lockers on it, in one ink. */

import { cornersOf } from "../domain/deck_plan.js";
import { PLAN } from "../words.js";
import { html } from "./html.js";

/** Height of a plan by its width. */
export const TALL = 1.5;
const WIDE = 1000;

const onPaper = (corners) => corners.map(([x, y]) => `${x},${y * TALL}`).join(" ");
const third = (value, low, high) => (value < low ? 0 : value > high ? 2 : 1);

/** Say in words where a place is, as one stands facing the bow. */
export const whereWords = ({ x, y }) => PLAN.where(third(y, 333, 667), third(x, 400, 600));

function Line({ corners, closed }) {
  const points = onPaper(cornersOf(corners));
  return closed ? html`<polygon points=${points} />` : html`<polyline points=${points} />`;
}

function Mark({ one, isMeant }) {
  const { x, y } = one.place;
  return html`<g class=${isMeant ? "meant" : ""} data-locker=${one.locker}>
    ${isMeant && html`<circle class="ring" cx=${x} cy=${y * TALL} r="52" />`}
    <circle class="dot" cx=${x} cy=${y * TALL} r=${isMeant ? 30 : 20} />
    <text class="on-paper" x=${x} y=${y * TALL + (isMeant ? 112 : 74)} text-anchor="middle"
      font-size=${isMeant ? 76 : 54}>${one.locker}</text></g>`;
}

/** What is being drawn: the corners so far, the first one marked. */
function Drawing({ corners }) {
  return html`<g class="drawing"><polyline points=${onPaper(corners)} />
    ${corners.map(([x, y], at) => html`<circle class=${at ? "dot" : "dot first"} cx=${x} cy=${y * TALL} r=${at ? 14 : 26} />`)}</g>`;
}

function Cross({ cross: [x, y] }) {
  return html`<path class="cross" d=${`M${x - 60},${y * TALL}h120M${x},${y * TALL - 60}v120`} />`;
}

/** Lockers with a place of their own on a deck. */
export const lockersOn = (deck, lockers) => lockers.filter(({ place }) => place && place.deck === deck.doc && !place.of);

/**
 * @param {{deck: object, lockers: object[], meant?: object, corners?: number[][], cross?: number[]}} props
 *   `meant` is the locker that is looked for; `cross` is where the keys are
 */
export function DeckPicture({ deck, lockers, meant, corners, cross }) {
  const here = lockersOn(deck, lockers);
  const place = meant?.place?.deck === deck.doc ? meant.place : null;
  const shown = place?.of ?? meant?.locker;
  const label = place ? PLAN.picture_of(deck.name, meant.locker, whereWords(place)) : PLAN.picture(deck.name, here.length);
  return html`<svg class="deck-plan" viewBox=${`0 0 ${WIDE} ${WIDE * TALL}`} role="img" aria-label=${label} data-deck=${deck.no}>
    <rect class="field" x="4" y="4" width=${WIDE - 8} height=${WIDE * TALL - 8} />
    <text class="bow" x="30" y="70" font-size="46">↑ ${PLAN.bow}</text>
    <g class="lines-drawn">${deck.lines.map((line) => html`<${Line} key=${line.doc} ...${line} />`)}</g>
    ${[...here].sort((one, other) => (one.locker === shown) - (other.locker === shown)).map((one) => html`<${Mark} key=${one.doc} one=${one} isMeant=${one.locker === shown} />`)}
    ${corners?.length > 0 && html`<${Drawing} corners=${corners} />`}
    ${cross && html`<${Cross} cross=${cross} />`}</svg>`;
}
