/** How well a trip is protected, said plainly; where nobody can say, that is said. */

import { ofHundred } from "../pictures/protection-curve.js";
import { PROTECTION } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

const NO_FIGURE = "no failure figure";

/** Give how many parts there are for which nobody knows how often they fail. */
export function withoutFigure(restock) {
  return restock.no_figure?.length ?? restock.lines.filter((line) => (line.remarks ?? []).includes(NO_FIGURE)).length;
}

/** Tell whether a line rests on a figure that somebody assumed. */
export function isAssumed(line, restock = null) {
  const figure = (restock?.failures ?? []).some((one) => one.part === line.part && one.assumed);
  return figure || (line.remarks ?? []).some((text) => /\bassumed\b/.test(text));
}

/** Write the sentences about protection: [main, further ...]; null where nobody can say. */
export function protectionTexts(restock) {
  const { protection } = restock;
  if (!protection || protection.reached === null || protection.reached === undefined) return null;
  const bought = protection.reached_bought;
  const missing = withoutFigure(restock);
  const assumed = restock.lines.filter((line) => isAssumed(line, restock)).length;
  return [PROTECTION.of_hundred(ofHundred(protection.reached), protection.until),
    ...[bought !== null && bought !== undefined && bought > protection.reached && PROTECTION.bought(ofHundred(bought)),
      protection.reached_a === null ? PROTECTION.none_a
        : protection.reached_a !== undefined && PROTECTION.reached_a(ofHundred(protection.reached_a)),
      missing > 0 && PROTECTION.missing(missing), assumed > 0 && PROTECTION.assumed(assumed)].filter(Boolean)];
}

/** @param {{restock: object}} props */
export function TripProtection({ restock }) {
  const texts = protectionTexts(restock);
  if (!texts) {
    return html`<section class="panel" data-piece="protection"><p class="sign role-ask"><${Shape} name="disc-dotted" />
      ${PROTECTION.nobody}</p><p>${PROTECTION.nobody_why}</p></section>`;
  }
  const [main, ...more] = texts;
  return html`<section class="panel stack-tight" data-piece="protection"><p class="answer">${main}</p>
    ${more.map((text) => html`<p>${text}</p>`)}</section>`;
}
