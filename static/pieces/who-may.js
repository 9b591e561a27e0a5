/** Who fills in what: a form that would only be refused is not shown. The boat's computer decides all the same. */

import { isCrew, isSkipper } from "../kept/kept.js";
import { href } from "../routes.js";
import { PEOPLE, PLACE, TITLE } from "../words.js";
import { html } from "./html.js";
import { Page } from "./page.js";

/** Pages that are a form as a whole, by whose it is. */
const FORMS = {
  crew: ["count-locker", "gauge", "reading", "trail-new", "trip-days"],
  skipper: ["begin-lockers", "begin-machine", "gauge-limits", "joint-edit", "part-new", "point-asks", "point-place", "trip-edit", "trip-new"],
};

/** What a form's writer must be for it to be shown. */
export const ForCrew = ({ children }) => (isCrew() ? children : null);
export const ForSkipper = ({ children }) => (isSkipper() ? children : null);

/** Say whose page a view is, if it is none for who holds this phone: `crew`, `skipper` or null. */
export function notFor(view) {
  if (FORMS.crew.includes(view) && !isCrew()) return "crew";
  return FORMS.skipper.includes(view) && !isSkipper() ? "skipper" : null;
}

/** @param {{view: string, place: string, whose: string}} props in place of a form that is somebody else's */
export function NotYours({ view, place, whose }) {
  return html`<${Page} title=${TITLE[view]} back=${[href([place]), PLACE[place]]}><p data-whose=${whose}>${PEOPLE.not_yours[whose]}</p><//>`;
}
