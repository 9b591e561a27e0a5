/** Where a locker is on the deck plan: in words on an answer, as a picture on its own page. */

import { useLoad } from "../load.js";
import { href } from "../routes.js";
import { PLAN } from "../words.js";
import { DeckPicture, whereWords } from "./deck-picture.js";
import { html } from "./html.js";

const placed = (plan, no) => {
  const locker = plan?.lockers.find((one) => one.locker === no && one.place);
  return locker ? { locker, lockers: plan.lockers, deck: plan.decks.find((one) => one.doc === locker.place.deck) } : null;
};

/** @param {{locker: string, picture?: boolean}} props the number of the locker */
export function OnPlan({ locker, picture }) {
  const found = placed(useLoad("plan").data, locker);
  if (!found) return null;
  const to = href(["aboard", "plan"], { locker });
  const where = `${found.deck.name}, ${whereWords(found.locker.place)}`;
  return html`<div data-piece="on-plan" class="stack-tight">${picture && html`<h2>${PLAN.show}</h2><p>${where}</p>
      ${found.locker.place.of && html`<p>${PLAN.inside(found.locker.place.of)}</p>`}
      <${DeckPicture} deck=${found.deck} lockers=${found.lockers} meant=${found.locker} />`}
    <p><a class="button" href=${to}>${picture ? PLAN.open : `${PLAN.show}: ${where}`}</a></p></div>`;
}
